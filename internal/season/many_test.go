package season

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/diary"
)

// neverCleared is a garden of so many sowings that nobody planned and nobody
// cleared, over so many days before its day, with a hundred waterings of its
// beds.
func (w world) neverCleared(sowings, days int) Input {
	const beds, waterings = 19, 100
	in := w.input(bedsOf(beds), "2022-06-15")
	bed := func(i int) string { return fmt.Sprintf("Bed %d", i%beds+1) }
	kinds := []string{"carrot_main", "beetroot", "lettuce_head", "broad_bean", "pea_shelling", "leek"}
	for i := range sowings {
		on := in.Today.Add(-days + i*days/sowings)
		in.Diary = append(in.Diary, diary.Entry{ID: int64(i + 1), Kind: diary.Sown, Day: on, Place: bed(i), Crop: kinds[i%len(kinds)]})
		if i%(sowings/waterings) == 0 {
			in.Diary = append(in.Diary, diary.Entry{ID: int64(sowings + i + 1), Kind: diary.Watered, Day: on, Place: bed(i), Amount: 10, Unit: diary.Litre})
		}
	}
	return in
}

// BenchmarkNeverCleared is a diary in which nobody clears anything, read for
// every planting, and a whole morning in it. Four times the sowings are to take
// about four times as long.
func BenchmarkNeverCleared(b *testing.B) {
	w := newWorld(b)
	for _, sowings := range []int{250, 1000, 4000} {
		in := w.neverCleared(sowings, 4*365)
		plantings := Plantings(in)
		b.Run(fmt.Sprintf("diary/%d", sowings), func(b *testing.B) {
			for b.Loop() {
				readDeeds(&in, plantings)
			}
		})
		b.Run(fmt.Sprintf("morning/%d", sowings), func(b *testing.B) {
			for b.Loop() {
				if _, err := Look(in); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// deedsSlowly reads the whole diary for a planting, line by line. sharers is
// the ground that stood in a place on a day.
func deedsSlowly(in *Input, p *Planting, sharers func(place string, day calendar.Date) float64) deeds {
	d := newDeeds()
	if d.newYear = newYearOf(in, p); p.Stands {
		d.begun, d.out = p.Start, p.SetOut
	}
	for _, e := range in.Diary {
		ofPlace := e.Planting == "" && e.Crop == "" && e.Place == p.Place.Name
		if e.Day > in.Today || !d.ofSeason(&e) || e.Planting != p.Key && !(ofPlace && d.standsOn(p, e.Day)) {
			continue
		}
		d.take(p, &e)
		if n := len(d.water); ofPlace && e.Kind == diary.Watered && n > 0 {
			if total := sharers(e.Place, e.Day); total > 0 {
				d.water[n-1].litres *= p.AreaM2 / total
			}
		}
	}
	return d
}

// Every planting is told of the same deeds as if it read the whole diary, of
// whatever is noted in whatever order.
func TestDeedsAreThoseOfTheWholeDiary(t *testing.T) {
	w := newWorld(t)
	for seed := range uint64(40) {
		in := w.anyDiary(rand.New(rand.NewPCG(seed, 1)))
		plantings := Plantings(in)
		nobody := func(string, calendar.Date) float64 { return 0 }
		sharers := func(place string, day calendar.Date) float64 {
			total := 0.0
			for i := range plantings {
				p := &plantings[i]
				d := deedsSlowly(&in, p, nobody)
				if from := d.groundFrom(p); p.Place.Name == place && from.Known() && from <= day && !(d.cleared.Known() && d.cleared < day) {
					total += p.AreaM2
				}
			}
			return total
		}
		for i, got := range readDeeds(&in, plantings) {
			want := deedsSlowly(&in, &plantings[i], sharers)
			for k := range want.water {
				if k < len(got.water) && math.Abs(got.water[k].litres-want.water[k].litres) < 1e-12 {
					got.water[k].litres = want.water[k].litres // shares may be added up in another order
				}
			}
			if !reflect.DeepEqual(got, want) {
				t.Fatalf("seed %d, %s:\n got %+v\nwant %+v", seed, plantings[i].Key, got, want)
			}
		}
	}
}

// anyDiary is a diary of whatever may be noted of a few plantings and places.
func (w world) anyDiary(chance *rand.Rand) Input {
	g := bedsOf(2)
	in := w.input(g, "2022-07-20",
		w.planting(g, "beetroot", "drilled", "Bed 1", 0, 200, "2022-05-02", ""), w.planting(g, "leek", "module", "Bed 1", 200, 400, "2022-04-04", "2022-06-13"),
		w.planting(g, "rhubarb", w.catalogue.Crop("rhubarb").UsualRoute().Key, "Bed 2", 0, 100, "2020-03-02", ""))
	in.Plantings[2].Stands = true
	kinds := []diary.Kind{diary.Sown, diary.Planted, diary.Up, diary.Picked, diary.Cleared, diary.Watered, diary.Watered, diary.Watered, diary.Lost, diary.Mulched, diary.Weeded}
	at := day("2022-05-01") // on beyond the input’s day
	for i := range 60 {
		at += calendar.Date(chance.IntN(4))
		e := diary.Entry{ID: int64(i + 1), Kind: kinds[chance.IntN(len(kinds))], Day: at, Place: fmt.Sprintf("Bed %d", 1+chance.IntN(2))}
		if e.Kind == diary.Watered {
			e.Amount, e.Unit = float64(1+chance.IntN(20)), diary.Litre
		}
		if k := chance.IntN(6); k < len(in.Plantings) {
			e.Planting, e.Crop, e.Place = in.Plantings[k].Key, in.Plantings[k].Crop.Key, in.Plantings[k].Place.Name
		} else if e.Kind == diary.Sown {
			e.Crop = "carrot_main"
		}
		in.Diary = append(in.Diary, e)
	}
	return in
}
