package season

import (
	"math"
	"strings"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/diary"
	"haulm/internal/grow"
)

// slowGarden is what a garden of a true pace and yield would write down over
// years of the built-in record, as if it had been measured.
func (w world) slowGarden(t *testing.T, pace, yield float64, years ...int) Input {
	t.Helper()
	measured := *w.record
	measured.Estimated = false
	g := bedsOf(7)
	in := w.input(g, "2022-11-20")
	in.Record = &measured
	climate := grow.NewClimate(&measured, w.catalogue.Constants)
	open, err := w.catalogue.Cover("")
	if err != nil {
		t.Fatal(err)
	}
	for _, year := range years {
		for bed, k := range []struct{ crop, route, start string }{
			{"beetroot", "drilled", "04-20"}, {"french_bean_bush", "drilled", "05-25"}, {"pea_shelling", "drilled", "04-05"}, {"turnip", "drilled", "04-20"},
			{"broad_bean", "drilled", "03-10"}, {"radish_summer", "drilled", "04-15"}, {"lettuce_leaf", "drilled", "04-10"},
		} {
			start := calendar.On(year, 1, 1).String()[:5] + k.start
			p := w.planting(g, k.crop, k.route, g.Places[bed].Name, 0, 200, start, "")
			track, err := climate.Track(p.Crop, p.Class, p.Route, open)
			if err != nil {
				t.Fatal(err)
			}
			truth := track.Paced(grow.Pace{Emergence: 1, Growth: pace}).Course(p.Start, calendar.None)
			if truth.Failed() {
				t.Fatalf("%s fails in %d: another start is wanted", k.crop, year)
			}
			in.Plantings = append(in.Plantings, p)
			in.Diary = append(in.Diary, entry(diary.Sown, start, p))
			kg := truth.KgPerM2 * p.ScaleM2 * yield
			for i, week := range truth.Pickings {
				e := entry(diary.Picked, max(truth.FirstPick, week.Monday).String(), p)
				e.Amount, e.Unit = kg*week.KgPerM2/truth.KgPerM2, diary.Kilogram
				if e.Day == truth.FirstPick && i > 0 || e.Amount <= 0 {
					continue
				}
				in.Diary = append(in.Diary, e)
			}
			in.Diary = append(in.Diary, entry(diary.Cleared, truth.LastPick.Add(10).String(), p))
		}
	}
	return in
}

// A garden truly slower and poorer than the book is recognised from its diary,
// and one that is true to the book is left alone.
func TestASlowGardenIsRecognised(t *testing.T) {
	w := newWorld(t)
	for _, truth := range []struct{ pace, yield float64 }{{1.08, 0.75}, {1, 1}, {0.94, 1.2}} {
		lessons, err := Learn(w.slowGarden(t, truth.pace, truth.yield, 2021, 2022))
		if err != nil {
			t.Fatal(err)
		}
		g := lessons.Garden
		if math.Abs(g.Pace/truth.pace-1) > 0.015 || math.Abs(g.Yield/truth.yield-1) > 0.1 {
			t.Errorf("truly %v: learnt %.3f and %.3f from %d dates and %d weights", truth, g.Pace, g.Yield, g.Dates, g.Weights)
		}
		if g.Dates < 12 || g.Weights < 12 || len(lessons.Crops) != 7 {
			t.Errorf("%d dates and %d weights were read for %d crops of 14 plantings", g.Dates, g.Weights, len(lessons.Crops))
		}
		for _, c := range lessons.Crops {
			if truth.pace > 1 && (c.Days < 1 || !strings.Contains(c.Says, "slower")) || truth.pace < 1 && (c.Days > -1 || !strings.Contains(c.Says, "quicker")) {
				t.Errorf("truly %v, %s: %d days, %q", truth, c.Crop, c.Days, c.Says)
			}
			if c.PaceLow >= c.Pace || c.PaceHigh <= c.Pace {
				t.Errorf("%s: %g does not lie within %g and %g", c.Crop, c.Pace, c.PaceLow, c.PaceHigh)
			}
		}
	}
}

// What was learnt moves the next planting's forecast, makes it surer, and
// weighs what is to come.
func TestLessonsMoveTheForecast(t *testing.T) {
	w := newWorld(t)
	past := w.slowGarden(t, 1.08, 0.75, 2020, 2021)
	past.Today = day("2022-06-20")
	lessons, err := Learn(past)
	if err != nil {
		t.Fatal(err)
	}
	p := w.planting(past.Garden, "beetroot", "drilled", "Bed 1", 200, 400, "2022-05-10", "")
	in := w.input(past.Garden, "2022-06-20", p)
	in.Diary = []diary.Entry{entry(diary.Sown, "2022-05-10", p)}
	book := look(t, in).Plantings[0]
	in.Lessons = lessons
	own := look(t, in).Plantings[0]
	if later := own.FirstPick.P50 - book.FirstPick.P50; later < 3 || later > 12 {
		t.Errorf("an 8 %% slower garden moves the first picking from %s to %s", book.FirstPick.P50, own.FirstPick.P50)
	}
	if own.FirstPick.P90-own.FirstPick.P10 >= book.FirstPick.P90-book.FirstPick.P10 {
		t.Errorf("fourteen dates leave the odds as wide as none: %v, %v", own.FirstPick, book.FirstPick)
	}
	if share := own.ToComeKg / book.ToComeKg; share < 0.65 || share > 0.85 {
		t.Errorf("three quarters of the yield are told as %.2f", share)
	}
}

// What cannot be told apart from the year, the kitchen or the gap in the diary
// teaches nothing.
func TestWhatTeachesNothing(t *testing.T) {
	w := newWorld(t)
	for name, spoil := range map[string]func(*Input){
		"an estimate's weather": func(in *Input) { r := *in.Record; r.Estimated = true; in.Record = &r },
		"no picking noted": func(in *Input) {
			in.Diary = slicesWithout(in.Diary, func(e diary.Entry) bool { return e.Kind == diary.Picked })
		},
		"a picking in the week of sowing": func(in *Input) {
			for i := range in.Diary {
				if in.Diary[i].Kind == diary.Picked {
					for _, p := range in.Plantings {
						if p.Key == in.Diary[i].Planting {
							in.Diary[i].Day = p.Start.Add(2)
						}
					}
					in.Diary[i].Unit = diary.Count
				}
			}
		},
	} {
		in := w.slowGarden(t, 1.08, 0.75, 2021)
		spoil(&in)
		lessons, err := Learn(in)
		if err != nil {
			t.Fatal(err)
		}
		if lessons.Garden.Dates != 0 || lessons.Garden.Weights != 0 {
			t.Errorf("%s taught %+v", name, lessons.Garden)
		}
		if h := lessons.Habit(w.catalogue.Crop("beetroot"), "mid"); h != byTheBook {
			t.Errorf("%s: nothing was learnt, yet %+v", name, h)
		}
	}
	var none *Lessons
	if h := none.Habit(w.catalogue.Crop("beetroot"), "mid"); h != byTheBook {
		t.Errorf("no lessons give %+v", h)
	}
	// One picking counted and not weighed leaves the whole weight untold.
	in := w.slowGarden(t, 1, 1, 2021)
	for i := range in.Diary {
		if in.Diary[i].Kind == diary.Picked && in.Diary[i].Crop == "beetroot" {
			in.Diary[i].Unit = diary.Count
			break
		}
	}
	lessons, err := Learn(in)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range lessons.Crops {
		if c.Crop == "beetroot" && c.Weights != 0 {
			t.Errorf("a crop half weighed taught its yield: %+v", c)
		}
	}
}

func slicesWithout(entries []diary.Entry, drop func(diary.Entry) bool) []diary.Entry {
	var out []diary.Entry
	for _, e := range entries {
		if !drop(e) {
			out = append(out, e)
		}
	}
	return out
}

// What was begun this very morning, and by a slip picked too, has grown in no
// weather: it teaches nothing, and nothing stumbles over it.
func TestWhatWasBegunTodayTeachesNothing(t *testing.T) {
	w := newWorld(t)
	g := bedsOf(1)
	in := w.input(g, "2022-05-20")
	p := w.planting(g, "radish_summer", "drilled", "Bed 1", 0, 100, "2022-05-20", "")
	in.Plantings = append(in.Plantings, p)
	in.Diary = append(in.Diary, entry(diary.Sown, "2022-05-20", p), entry(diary.Picked, "2022-05-20", p))
	lessons, err := Learn(in)
	if err != nil || lessons.Garden.Dates != 0 || lessons.Garden.Weights != 0 {
		t.Errorf("learnt %+v, %v", lessons, err)
	}
	if _, err := Look(in); err != nil {
		t.Error(err)
	}
}
