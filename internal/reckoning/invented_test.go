package reckoning

import (
	"math"
	"testing"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/diary"
	"haulm/internal/garden"
	"haulm/internal/weather"
)

// invented is a made-up season of a small garden: every figure of the golden
// files can be followed to a line here.
func invented(t testing.TB) Input {
	t.Helper()
	catalogue, err := crop.Load()
	if err != nil {
		t.Fatal(err)
	}
	bed := garden.Place{Name: "North bed", Kind: garden.Bed, LengthM: 6, WidthM: 1.2, SunHours: 7}
	gate := garden.Place{Name: "Gate bed", Kind: garden.Bed, LengthM: 5, WidthM: 1.2, SunHours: 7}
	pots := garden.Place{Name: "Pots", Kind: garden.Pots, Pots: 4, Litres: 40, SunHours: 7}
	g := &garden.Garden{
		Name: "Ten Rows", WeatherRef: "made", Site: weather.Site{LatDeg: 52, LonDeg: -3, ElevM: 80},
		Household: garden.Household{People: 2, PortionsPerDay: 1.25, MinutesPerWeek: 100, IndoorTrays: 2, Experience: "some"},
		Wants:     []garden.Want{{Dish: "courgettes", PortionsPerWeek: 4, Liking: 1}, {Dish: "onions", PortionsPerWeek: 4, Liking: 1}, {Dish: "leeks", PortionsPerWeek: 2, Liking: 1}},
		Places:    []garden.Place{bed, gate, pots},
		History:   []garden.Grown{{Place: "North bed", FromCM: 0, ToCM: 300, Crop: "kale", Year: 2025}},
		Standing: []garden.Standing{
			{Place: "Gate bed", FromCM: 0, ToCM: 100, Crop: "leek", Route: "module", Class: "mid", Started: calendar.On(2025, 4, 10), SetOut: calendar.On(2025, 6, 20)},
		},
		InStore: []garden.InStore{{Dish: "squash", Kg: 6}},
	}
	b := &inventor{t, catalogue, nil}
	courgette := b.add("courgette", "pot", bed, 0, 200, on(4, 20), on(5, 20), on(10, 10), on(7, 5), []float64{8, 10, 12})
	onion := b.add("onion_sets", "sets", bed, 200, 400, on(3, 20), calendar.None, on(8, 20), on(8, 1), []float64{5, 6, 7})
	carrot := b.add("carrot_main", "drilled", bed, 400, 600, on(5, 1), calendar.None, on(11, 1), on(8, 25), []float64{4, 6, 8})
	leek := b.add("leek", "module", gate, 100, 300, on(4, 5), on(6, 15), calendar.On(2027, 3, 20), on(10, 15), []float64{1, 2, 3})
	beet := b.add("beetroot", "drilled", gate, 300, 500, on(5, 5), calendar.None, on(10, 1), on(7, 25), []float64{3, 4, 5})
	b.plantings = append(b.plantings, Planting{Key: "old leek", Crop: catalogue.Crop("leek"), Class: "mid", Route: route(t, catalogue, "leek", "module"), Place: gate,
		FromCM: 0, ToCM: 100, AreaM2: 1.2, Plants: 40, Stood: true, Start: calendar.On(2025, 4, 10), SetOut: calendar.On(2025, 6, 20), Clear: calendar.None, FirstPick: noDates, Kg: []float64{2, 2.5, 3}})
	for i := range b.plantings {
		b.plantings[i].Alive = b.plantings[i].Key == leek
	}
	line := func(kind diary.Kind, day calendar.Date, key string, amount float64, u diary.Unit, text string) diary.Entry {
		e := diary.Entry{Kind: kind, Day: day, Planting: key, Amount: amount, Unit: u, Text: text}
		for i := range b.plantings {
			if p := &b.plantings[i]; p.Key == key {
				e.Crop, e.Place = p.Crop.Key, p.Place.Name
			}
		}
		return e
	}
	frosted := line(diary.Lost, on(5, 12), courgette, 1, diary.Count, "")
	frosted.Cause = "frost"
	slugs := line(diary.Lost, on(5, 30), beet, 0, "", "")
	slugs.Cause = "slugs"
	slugged := line(diary.Lost, on(6, 4), carrot, 30, diary.Count, "")
	slugged.Cause = "Slugs"
	entries := []diary.Entry{
		line(diary.Picked, on(1, 20), "old leek", 1.5, diary.Kilogram, ""),
		line(diary.Picked, on(2, 20), "old leek", 1, diary.Kilogram, "10 min"),
		line(diary.Cleared, on(3, 10), "old leek", 0, "", ""),
		line(diary.Planted, on(3, 22), onion, 0, "", "40 min"),
		line(diary.Sown, on(4, 2), courgette, 0, "", ""),
		line(diary.Sown, on(5, 3), carrot, 0, "", "25 min"),
		line(diary.Sown, on(5, 6), beet, 0, "", ""),
		line(diary.Planted, on(4, 28), courgette, 0, "", "1 h 20 min"),
		frosted, slugs, slugged,
		line(diary.Sown, on(4, 28), leek, 0, "", ""),
		line(diary.Planted, on(6, 28), leek, 0, "", ""),
		line(diary.Picked, on(7, 20), courgette, 6, diary.Kilogram, ""),
		line(diary.Picked, on(7, 28), courgette, 7, diary.Kilogram, ""),
		line(diary.Picked, on(8, 10), courgette, 5, diary.Kilogram, ""),
		line(diary.Picked, on(8, 22), onion, 6.2, diary.Kilogram, ""),
		line(diary.Stored, on(8, 30), onion, 6, diary.Kilogram, ""),
		line(diary.Cleared, on(8, 22), onion, 0, "", ""),
		line(diary.Picked, on(9, 5), carrot, 1.1, diary.Kilogram, ""),
		line(diary.Picked, on(9, 20), carrot, 6, diary.Count, ""),
		line(diary.Cleared, on(9, 30), carrot, 0, "", ""),
		line(diary.Cleared, on(10, 20), courgette, 0, "", ""),
		line(diary.Picked, on(11, 2), leek, 1, diary.Kilogram, ""),
		{Kind: diary.Weeded, Day: on(6, 1), Text: "all paths; 30 min"},
		{Kind: diary.Picked, Day: on(6, 20), Crop: "rhubarb", Amount: 1, Unit: diary.Kilogram},
		{Kind: diary.Skipped, Day: on(6, 21), Planting: leek, Text: "weed 40 min"},
	}
	return Input{Garden: g, Catalogue: catalogue, Year: 2026, Today: calendar.On(2026, 12, 31), Plantings: b.plantings, Diary: byDay(entries), Record: madeWeather(), PlannedPortions: 400}
}

func on(month time.Month, day int) calendar.Date { return calendar.On(2026, month, day) }

type inventor struct {
	t         testing.TB
	catalogue *crop.Catalogue
	plantings []Planting
}

func route(t testing.TB, catalogue *crop.Catalogue, key, name string) *crop.Route {
	t.Helper()
	r, err := catalogue.Crop(key).Route(name)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// add plans one planting and returns its key.
func (b *inventor) add(key, routeName string, place garden.Place, fromCM, toCM int, start, out, clear, first calendar.Date, kg []float64) string {
	area := float64(toCM-fromCM) / 100 * place.WidthM
	r := route(b.t, b.catalogue, key, routeName)
	p := Planting{Key: key + " of " + place.Name, Crop: b.catalogue.Crop(key), Class: "mid", Route: r, Place: place, FromCM: fromCM, ToCM: toCM, AreaM2: area,
		Plants: int(area * r.PlantsPerM2), Planned: true, Start: start, SetOut: out, Clear: clear, FirstPick: DateOdds{first.Add(-10), first, first.Add(10)}, Kg: kg}
	b.plantings = append(b.plantings, p)
	return p.Key
}

func byDay(entries []diary.Entry) []diary.Entry {
	for i := range entries {
		entries[i].ID = int64(i + 1)
		for j := i; j > 0 && entries[j].Day < entries[j-1].Day; j-- {
			entries[j], entries[j-1] = entries[j-1], entries[j]
		}
	}
	return entries
}

// madeWeather is 1997 to 2026: one curve, warmer or wetter by a little that
// differs from year to year; the last year's May is three degrees colder and its
// last frost comes on 12 May. Other years' comes between 8 April and 7 May.
func madeWeather() *weather.Record {
	rec := &weather.Record{Start: calendar.On(1997, 1, 1)}
	for day := rec.Start; day < calendar.On(2027, 1, 1); day++ {
		n := day.Year() - 1997
		mean := 10 - 7*math.Cos(2*math.Pi*float64(day.YearDay()-20)/365.25) + 0.05*float64((7*n+5*int(day.Month()))%30)
		low := mean - 5
		if day.Month() >= 4 && day.Month() <= 8 {
			low = mean - 3
		}
		switch {
		case day.Year() == 2026 && day.Month() == 5:
			mean -= 3
			low = mean - 3
			if _, _, d := day.Civil(); d == 12 {
				low = -1
			}
		case day.Year() != 2026 && day == calendar.On(day.Year(), 4, 8).Add(n):
			low = -1
		}
		rec.TminC, rec.TmaxC = append(rec.TminC, low), append(rec.TmaxC, 2*mean-low)
		rec.RainMM = append(rec.RainMM, 2+0.03*float64((11*n+3*int(day.Month()))%30))
	}
	return rec
}
