package season

import (
	"fmt"
	"slices"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/diary"
	"haulm/internal/forecast"
	"haulm/internal/garden"
	"haulm/internal/ground"
	"haulm/internal/normals"
	"haulm/internal/weather"
)

// world is what the tests share; all of it is only read.
type world struct {
	catalogue *crop.Catalogue
	record    *weather.Record
}

func newWorld(tb testing.TB) world {
	tb.Helper()
	catalogue, err := crop.Load()
	if err != nil {
		tb.Fatal(err)
	}
	rec, err := normals.BuiltIn(normals.MildMaritime)
	if err != nil {
		tb.Fatal(err)
	}
	mended, _ := weather.Fill(rec, weather.WMORules())
	return world{catalogue, mended}
}

func day(text string) calendar.Date {
	if text == "" {
		return calendar.None
	}
	d, err := calendar.Parse(text)
	if err != nil {
		panic(err)
	}
	return d
}

// bedsOf is a garden of so many beds of 4 by 1.2 m.
func bedsOf(n int) *garden.Garden {
	g := garden.Demo()
	g.Places, g.Standing, g.History, g.Locks, g.InStore = nil, nil, nil, nil, nil
	for i := range n {
		g.Places = append(g.Places, garden.Place{Name: fmt.Sprintf("Bed %d", i+1), Kind: garden.Bed, LengthM: 4, WidthM: 1.2, SunHours: 8})
	}
	g.Places = append(g.Places, garden.Place{Name: "Pots", Kind: garden.Pots, Pots: 4, Litres: 40, SunHours: 8})
	return g
}

// planting is a planned planting on a stretch.
func (w world) planting(g *garden.Garden, cropKey, routeKey, place string, fromCM, toCM int, start, setOut string) Planting {
	cr := w.catalogue.Crop(cropKey)
	route, err := cr.Route(routeKey)
	if err != nil {
		panic(err)
	}
	p, _ := g.Place(place)
	layout := ground.Plants(p, ground.SpacingOf(route), float64(toCM-fromCM))
	area := float64(toCM-fromCM) / 100 * p.WidthM
	if p.Kind == garden.Pots {
		area = float64(layout.Plants) / route.PlantsPerM2
	}
	return Planting{
		Key: Key(cropKey, route.Key, place, fromCM, day(start)), Crop: cr, Class: "mid", Route: route, Place: p, FromCM: fromCM, ToCM: toCM,
		AreaM2: area, Plants: layout.Plants, Seeds: 2 * layout.Plants, ScaleM2: 0.75 * area, Start: day(start), SetOut: day(setOut),
		Planned: noOdds, Clear: calendar.None,
	}
}

func entry(kind diary.Kind, on string, p Planting) diary.Entry {
	return diary.Entry{Kind: kind, Day: day(on), Place: p.Place.Name, Crop: p.Crop.Key, Planting: p.Key}
}

// input is a morning in 2022, the last year of the built-in record.
func (w world) input(g *garden.Garden, today string, plantings ...Planting) Input {
	return Input{Garden: g, Catalogue: w.catalogue, Plantings: plantings, Record: w.record, Today: day(today)}
}

func look(tb testing.TB, in Input) *State {
	tb.Helper()
	s, err := Look(in)
	if err != nil {
		tb.Fatal(err)
	}
	return s
}

// job finds a job by its kind.
func (s *State) job(kind string) (Job, bool) {
	i := slices.IndexFunc(s.Jobs, func(j Job) bool { return j.Kind == kind })
	if i < 0 {
		return Job{}, false
	}
	return s.Jobs[i], true
}

func (s *State) alarm(kind AlarmKind) (Alarm, bool) {
	i := slices.IndexFunc(s.Alarms, func(a Alarm) bool { return a.Kind == kind })
	if i < 0 {
		return Alarm{}, false
	}
	return s.Alarms[i], true
}

// expected is so many days from a day on, all alike.
func expected(from string, days int, lowC, highC, rainMM, windMS float64) *forecast.Forecast {
	f := &forecast.Forecast{}
	for k := range days {
		f.Days = append(f.Days, forecast.Day{Date: day(from).Add(k), TminC: lowC, TmaxC: highC, RainMM: rainMM, WindMS: windMS, HumidityPC: 75, Hours: 24, StepHours: 1})
	}
	return f
}
