package cropping

import (
	"slices"
	"testing"

	"haulm/internal/garden"
	"haulm/internal/plan"
)

// Tidying keeps every rule, tells whole rows only, and reports a loss that the
// planner's own valuation bears out.
func TestTidyTellsWholeRowsAndItsLoss(t *testing.T) {
	demo := tidyDemo(t)
	l, result, tidied := demo.lay, demo.quick, demo.tidied
	if broken := plan.Validate(l.Problem, tidied.Plantings); len(broken) > 0 {
		t.Fatalf("rules broken: %v", broken[0])
	}
	if was := l.rowWorth(result.Plantings); tidied.InRows < was-1e-9 {
		t.Errorf("cut to rows the plan is worth %g, uncut its rows were worth %g", tidied.InRows, was)
	}
	if tidied.EvenCost > float64(len(result.Plantings))*l.rules.EvenLossShare*tidied.Worth {
		t.Errorf("even steps cost %g of %g", tidied.EvenCost, tidied.Worth)
	}
	if got := l.rowWorth(tidied.Plantings); got != tidied.Left {
		t.Errorf("the plan is said to be worth %g, is worth %g", tidied.Left, got)
	}
	t.Logf("loss %.2f %%, %d recut, %d moved", 100*tidied.Loss(), tidied.Recut, tidied.Moved)
	year, err := l.Tell(tidied.Plantings, tidied.Left)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range year.Plantings {
		if p.Stands || p.Pots {
			continue
		}
		if over := float64(p.ToCM-p.FromCM) - float64(p.Layout.Rows)*p.RowCM; over > 1 || over < -1 || p.Layout.Rows == 0 {
			t.Errorf("%s in %s takes %d cm for %d rows %g cm apart", p.Crop.Name, p.Place, p.ToCM-p.FromCM, p.Layout.Rows, p.RowCM)
		}
	}
}

// Steps that are uneven by a week come out even; even ones stay.
func TestSuccessionsAreMadeEven(t *testing.T) {
	for _, c := range []struct {
		weeks []int
		even  bool
	}{{[]int{10, 13, 16}, true}, {[]int{10, 13, 17}, false}, {[]int{4, 6}, true}, {[]int{1, 2, 3, 5}, false}} {
		if even(c.weeks) != c.even {
			t.Errorf("weeks %v even: %v", c.weeks, !c.even)
		}
	}
	g := garden.Demo()
	g.Standing, g.History, g.InStore, g.Locks = nil, nil, nil, nil
	l := newWorld(t).lay(t, g)
	plantings := uneven(t, l)
	tidied := l.Tidy(plantings)
	all := make([]int, len(plantings))
	for i := range all {
		all[i] = i
	}
	if weeks := l.starts(tidied.Plantings, all); !even(weeks) || tidied.Moved == 0 {
		t.Errorf("sown in weeks %v: %d moved", weeks, tidied.Moved)
	}
}

// uneven is one crop sown in one bed in three weeks of which the last is late,
// each worth its bother.
func uneven(t *testing.T, l *Lay) []plan.Planting {
	t.Helper()
	for i := range l.choices {
		c := &l.choices[i]
		late, middle := l.offered(c, c.sowWeek+7), l.offered(c, c.sowWeek+3)
		if c.kind != l.beds[0].numbers.Kind || late < 0 || middle < 0 || l.offered(c, c.sowWeek+6) < 0 || 3*c.numbers.MinStrips > l.beds[0].numbers.Len {
			continue
		}
		var out []plan.Planting
		for k, cand := range []int{i, middle, late} {
			out = append(out, plan.Planting{Cand: cand, Bed: 0, Strip: k * c.numbers.MinStrips, Strips: c.numbers.MinStrips})
		}
		if len(plan.Validate(l.Problem, out)) == 0 && l.WorthOf(out).betterThan(l.WorthOf(nil)) && !l.leaveOut(&Tidied{Plantings: slices.Clone(out)}) {
			return out
		}
	}
	t.Fatal("no crop is offered in three such weeks that are all worth it")
	return nil
}
