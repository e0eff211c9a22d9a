package cropping

import (
	"slices"
	"sync"
	"testing"

	"haulm/internal/garden"
	"haulm/internal/plan"
)

// tidy is a quick plan of the demonstration garden, and the same tidied.
type tidy struct {
	lay    *Lay
	quick  plan.Result
	tidied Tidied
}

var (
	demoTidy     tidy
	makeDemoTidy sync.Once
)

// tidyDemo is that plan, made once, since it takes seconds. Nobody may change it.
func tidyDemo(t *testing.T) tidy {
	t.Helper()
	makeDemoTidy.Do(func() {
		l := newWorld(t).lay(t, garden.Demo())
		result := quick(l)
		demoTidy = tidy{l, result, l.Tidy(result.Plantings)}
	})
	if demoTidy.lay == nil {
		t.Fatal("the demonstration garden could not be laid out")
	}
	return demoTidy
}

// A tidied plan is no worse than it was in whole rows, by either count, and
// neither a planting nor a row can be left out of it for more.
func TestNothingIsLeftThatDoesNotEarnItsKeep(t *testing.T) {
	demo := tidyDemo(t)
	l, tidied := demo.lay, demo.tidied
	cut := Tidied{Plantings: slices.Clone(demo.quick.Plantings)}
	l.cutToRows(&cut, nil)
	was, now := l.WorthOf(cut.Plantings), l.WorthOf(tidied.Plantings)
	if tidied.LeftOut == 0 || !now.betterThan(was) {
		t.Errorf("%d plantings left out of a plan hardly searched: worth %+v, before %+v", tidied.LeftOut, now, was)
	}
	for k, s := range l.Simplify(tidied.Plantings, 3) {
		if s.Worth.betterThan(now) || now.Loss(s.Worth) < -1e-6 {
			t.Errorf("with %d plantings fewer it is worth %+v, as handed over %+v", k+1, s.Worth, now)
		}
	}
	for i, p := range tidied.Plantings {
		for strips := range p.Strips {
			less := slices.Clone(tidied.Plantings)
			if less[i].Strips = strips; strips == 0 {
				less = slices.Delete(less, i, i+1)
			}
			if slices.Contains(l.Problem.Fixed, p) || len(plan.Validate(l.Problem, less)) > 0 || l.rowLength(p) == l.rowLength(plan.Planting{Cand: p.Cand, Bed: p.Bed, Strip: p.Strip, Strips: strips}) {
				continue
			}
			if w := l.WorthOf(less); w.betterThan(now) {
				t.Errorf("%s on %d strips of %d: worth %+v, as handed over %+v", l.choices[p.Cand].crop.Name, strips, p.Strips, w, now)
			}
		}
	}
}

// More of one crop than any table eats is shortened to what pays; what the
// gardener keeps is not.
func TestAPlantingTooLongIsShortened(t *testing.T) {
	l := tidyDemo(t).lay
	long := wholeBed(t, l)
	tidied := l.Tidy([]plan.Planting{long})
	if tidied.Shortened == 0 || len(tidied.Plantings) != 1 || tidied.Plantings[0].Strips >= long.Strips {
		t.Errorf("%d strips of %s became %+v", long.Strips, l.choices[long.Cand].crop.Name, tidied.Plantings)
	}
	held := l.Holding([]plan.Planting{long})
	if got := held.Tidy([]plan.Planting{long}).Plantings; !slices.Equal(got, []plan.Planting{long}) {
		t.Errorf("a planting that is kept was made %+v of %+v", got, long)
	}
	if slices.Contains(l.Problem.Fixed, long) {
		t.Error("holding a planting changed the layout that it was asked of")
	}
}

// wholeBed is the longest planting, a whole bed of one crop, that is worth its
// bother and would be worth more on half of it.
func wholeBed(t *testing.T, l *Lay) plan.Planting {
	t.Helper()
	for i := range l.choices {
		bed := slices.IndexFunc(l.beds, func(b bed) bool { return b.numbers.Kind == l.choices[i].kind })
		n := l.beds[bed].numbers.Len
		all := plan.Planting{Cand: i, Bed: bed, Strips: n}
		half := plan.Planting{Cand: i, Bed: bed, Strips: n / 2}
		if len(plan.Validate(l.Problem, []plan.Planting{all})) > 0 || l.choices[i].numbers.MinStrips > n/2 {
			continue
		}
		bare, w := l.WorthOf(nil), l.WorthOf([]plan.Planting{all})
		if w.betterThan(bare) && l.WorthOf([]plan.Planting{half}).betterThan(w) {
			return all
		}
	}
	t.Fatal("no crop is more than the table eats on a whole bed")
	return plan.Planting{}
}

// A loss is by the dearer of the two counts, a gain one by both.
func TestWhatAnotherPlanCosts(t *testing.T) {
	was := Worth{Strips: 200, Rows: 100}
	for _, c := range []struct {
		then Worth
		want float64
	}{
		{Worth{190, 100}, 0.05},
		{Worth{200, 90}, 0.1},
		{Worth{210, 99}, 0.01},
		{Worth{202, 102}, -0.01},
		{Worth{200, 100}, 0},
	} {
		if got := was.Loss(c.then); got < c.want-1e-12 || got > c.want+1e-12 {
			t.Errorf("from %+v to %+v: loss %g, want %g", was, c.then, got, c.want)
		}
	}
	if got := (Worth{}).Loss(was); got != 0 {
		t.Errorf("from nothing: loss %g", got)
	}
}

// A plan that is kept and told again, over a layout that offers nothing else, is
// simplified as it was when it was made.
func TestAKeptPlanIsSimplifiedAlike(t *testing.T) {
	demo := tidyDemo(t)
	l, tidied := demo.lay, demo.tidied.Plantings
	q := newWorld(t).question(garden.Demo())
	q.Only = true
	again, err := NewLay(q)
	if err != nil {
		t.Fatal(err)
	}
	kept, unfit := again.Match(l.Save(tidied))
	if len(unfit) > 0 {
		t.Fatalf("not found again: %v", unfit)
	}
	slices.Reverse(kept)
	now, then := l.Simplify(tidied, 6), again.Simplify(kept, 6)
	if len(now) != 6 || len(then) != 6 {
		t.Fatalf("%d and %d steps", len(now), len(then))
	}
	for k := range now {
		if a, b := now[k].Worth, then[k].Worth; a.Rows-b.Rows > 1e-6 || b.Rows-a.Rows > 1e-6 || a.Strips-b.Strips > 1e-6 || b.Strips-a.Strips > 1e-6 {
			t.Errorf("%d fewer: worth %+v when made, %+v when told again", k+1, a, b)
		}
	}
}
