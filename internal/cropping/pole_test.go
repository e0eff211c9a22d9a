package cropping

import (
	"math"
	"testing"

	"haulm/internal/garden"
	"haulm/internal/plan"
)

// A tall crop on the sunny end of a bed goes to the pole's end, whichever way
// the bed runs, at no cost to the plan's worth; across, it stays.
func TestTallCropsGoToThePole(t *testing.T) {
	w := newWorld(t)
	for _, c := range []struct {
		runs string
		pole bool // the far end is the pole's
		moot bool
	}{{"", true, false}, {"N", true, false}, {"NE", true, false}, {"S", false, false}, {"E", false, true}} {
		g := garden.Demo()
		g.Standing, g.History, g.InStore, g.Locks = nil, nil, nil, nil
		for i := range g.Places {
			g.Places[i].RunsTo = c.runs
		}
		l := w.lay(t, g)
		tall, low := sideBySide(t, l)
		last := l.beds[0].numbers.Len
		start := []plan.Planting{{Cand: tall, Bed: 0, Strip: 0, Strips: 4}, {Cand: low, Bed: 0, Strip: 4, Strips: 4}}
		if !c.pole {
			start[0].Strip, start[1].Strip = last-4, last-8
		}
		out, before, after := l.tallToPole(start)
		if c.moot {
			if out[0] != start[0] {
				t.Errorf("across the sun, and yet it went from %+v to %+v", start[0], out[0])
			}
			continue
		}
		if after >= before || after != 0 || (out[0].Strip > out[1].Strip) != c.pole {
			t.Errorf("a bed that runs to %q: tall at strip %d, low at %d; shade %g, was %g", c.runs, out[0].Strip, out[1].Strip, after, before)
		}
		was, _ := plan.Evaluate(l.Problem, start)
		is, _ := plan.Evaluate(l.Problem, out)
		if math.Abs(was.Total-is.Total) > 1e-9 {
			t.Errorf("ordering cost %g", was.Total-is.Total)
		}
	}
}

// sideBySide are a tall choice and a low one that stand at one time.
func sideBySide(t *testing.T, l *Lay) (tall, low int) {
	t.Helper()
	for i := range l.choices {
		for j := range l.choices {
			a, b := &l.choices[i], &l.choices[j]
			if a.crop.Tall && !b.crop.Tall && a.kind == l.beds[0].numbers.Kind && b.kind == a.kind && a.numbers.MinStrips <= 4 && b.numbers.MinStrips <= 4 &&
				a.numbers.Start < b.numbers.End-4 && b.numbers.Start < a.numbers.End-4 &&
				len(plan.Validate(l.Problem, []plan.Planting{{Cand: i, Bed: 0, Strip: 0, Strips: 4}, {Cand: j, Bed: 0, Strip: 4, Strips: 4}})) == 0 {
				return i, j
			}
		}
	}
	t.Fatal("no tall crop and low crop stand at one time")
	return 0, 0
}
