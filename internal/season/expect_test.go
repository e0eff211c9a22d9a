package season

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/grow"
)

// planned grows a planting as a plan does: through every weather year at the
// book's middling pace.
func (w world) planned(t *testing.T, climate *grow.Climate, p *Planting) (*grow.Track, []grow.Course) {
	t.Helper()
	g := &grower{in: &Input{Garden: bedsOf(10), Catalogue: w.catalogue}, climate: climate, tracks: map[trackKey]*grow.Track{}}
	track, err := g.track(p)
	if err != nil {
		t.Fatal(err)
	}
	var courses []grow.Course
	for year := 1992; year < 2021; year++ {
		start := calendar.MonthDayOf(p.Start).In(year)
		courses = append(courses, track.Course(start, outOf(p, start)))
	}
	firsts := make([]float64, len(courses))
	for i := range courses {
		firsts[i] = plannedOutlook(p, &courses[i], 1).first
	}
	p.Planned = oddsOf(firsts)
	return track, courses
}

// outOf is the day on which a planting begun on a day goes out.
func outOf(p *Planting, start calendar.Date) calendar.Date {
	if !p.SetOut.Known() {
		return calendar.None
	}
	return start.Add(int(p.SetOut - p.Start))
}

func within(x, low, high float64) float64 {
	if x >= low && x <= high {
		return 1
	}
	return 0
}

// Of plantings whose kind and yield are drawn within the doubt, 8 in 10 come
// within the spans that are told of them, and fewer within the plan's own days,
// which are of the weather alone.
func TestExpectedSpansHoldEightInTen(t *testing.T) {
	w := newWorld(t)
	climate := grow.NewClimate(w.record, w.catalogue.Constants)
	g, dice := bedsOf(10), rand.New(rand.NewPCG(5, 6))
	n, days, plannedDays, weights := 0.0, 0.0, 0.0, 0.0
	for i, k := range hindcastKinds {
		start := calendar.On(2022, time.Month(k.month), k.day)
		setOut := ""
		if k.out > 0 {
			setOut = start.Add(k.out).String()
		}
		p := w.planting(g, k.crop, k.route, g.Places[i].Name, 0, 200, start.String(), setOut)
		track, courses := w.planned(t, climate, &p)
		e, err := Expect(Input{Garden: g, Catalogue: w.catalogue}, climate, p, courses)
		if err != nil {
			t.Fatal(err)
		}
		logSD := (&grower{in: &Input{Catalogue: w.catalogue}}).weightLogSD(p.Crop)
		for c := range courses {
			for range 4 {
				kind := track.Paced(track.Doubt().At(dice.NormFloat64())).Course(courses[c].Start, outOf(&p, courses[c].Start))
				o := plannedOutlook(&p, &kind, math.Exp(dice.NormFloat64()*logSD))
				if math.IsInf(o.first, 1) {
					continue
				}
				n++
				days += within(o.first, float64(e.FirstPick.P10), float64(e.FirstPick.P90))
				plannedDays += within(o.first, float64(p.Planned.P10), float64(p.Planned.P90))
				weights += within(o.kg, e.LowKg, e.HighKg)
			}
		}
	}
	t.Logf("%.0f plantings: days within %.3f, the plan's own %.3f, weights %.3f", n, days/n, plannedDays/n, weights/n)
	if held := days / n; held < 0.75 || held > 0.85 || plannedDays/n > 0.65 {
		t.Errorf("spans of days hold %.3f, the plan's own %.3f; want 0.75 to 0.85, and less than 0.65 of the weather alone", held, plannedDays/n)
	}
	if held := weights / n; held < 0.75 || held > 0.85 {
		t.Errorf("spans of weights hold %.3f, want 0.75 to 0.85", held)
	}
}
