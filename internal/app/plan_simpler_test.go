package app

import (
	"context"
	"testing"
	"time"

	"haulm/internal/cropping"
	"haulm/internal/plan"
)

// untidied is a hardly searched plan that nothing was left out of, as plans were
// kept before the tidying did that.
func untidied(t *testing.T) savedPlan {
	t.Helper()
	saved, err := restPlan()
	if err != nil {
		t.Fatal(err)
	}
	desk := savedDesk(t, saved, winter)
	s, err := desk.restStart(RestQuestion{Day: desk.Today()})
	if err != nil {
		t.Fatal(err)
	}
	lay, err := cropping.NewLay(s.question)
	if err != nil {
		t.Fatal(err)
	}
	result := plan.Solve(context.Background(), lay.Problem, plan.Options{Seed: 1, Iterations: 60}, nil)
	saved.Value, saved.Bound, saved.Gap, saved.Plantings = result.Value, 0, 0, lay.Save(result.Plantings)
	return saved
}

// winter is a day before the plan begins.
var winter = time.Date(2026, 12, 1, 7, 0, 0, 0, time.UTC)

// A simpler plan that is worth more than the present one is told as a gain, and
// taking it gives what was told.
func TestASimplerPlanMayGain(t *testing.T) {
	desk := savedDesk(t, untidied(t), winter)
	before, steps, err := desk.Frontier(5)
	if err != nil {
		t.Fatal(err)
	}
	for k, s := range steps {
		worth, err := plan.Evaluate(before.Lay.Problem, s.plantings)
		if err != nil {
			t.Fatal(err)
		}
		byStrips := (before.Result.Value - worth.Total) / before.Result.Value
		if s.Fewer != k+1 || s.Left != len(before.Result.Plantings)-k-1 || len(s.plantings) != s.Left || s.Loss < byStrips-1e-9 {
			t.Errorf("step %d: %d fewer, %d left, loss %g; by strips alone %g", k, s.Fewer, s.Left, s.Loss, byStrips)
		}
	}
	if len(steps) != 5 || steps[4].Loss > -0.001 {
		t.Fatalf("five of too many plantings left out are told as: %+v", steps)
	}
	step, after, err := desk.TakeSimpler(5)
	if err != nil {
		t.Fatal(err)
	}
	if step.Loss != steps[4].Loss || after.Result.Value <= before.Result.Value || after.Year.Value != after.Result.Value {
		t.Errorf("taken: loss %g, told %g; worth %g, before %g", step.Loss, steps[4].Loss, after.Result.Value, before.Result.Value)
	}
}

// A plan just made is as simple as pays: nothing simpler is told as a gain.
func TestAPlanJustMadeIsAsSimpleAsPays(t *testing.T) {
	desk := restDesk(t, winter)
	planned, steps, err := desk.Frontier(3)
	if err != nil {
		t.Fatal(err)
	}
	if len(steps) == 0 || len(planned.Unfit) > 0 {
		t.Fatalf("%d steps, unfit: %v", len(steps), planned.Unfit)
	}
	for _, s := range steps {
		if s.Loss < -1e-6 {
			t.Errorf("%d plantings fewer gain %.2f %%", s.Fewer, -100*s.Loss)
		}
	}
}

func TestWordsOfASimplerPlan(t *testing.T) {
	for _, c := range []struct {
		loss float64
		want string
	}{{0.0123, "costs 1.2 %"}, {0.2, "costs 20 %"}, {0.0004, "costs nothing"}, {0, "costs nothing"}, {-0.0004, "costs nothing"}, {-0.0123, "gains 1.2 %"}} {
		if got := (Simpler{Loss: c.loss}).Words(); got != c.want {
			t.Errorf("loss %g: %q, want %q", c.loss, got, c.want)
		}
	}
}

// More than can go is refused with how many can, and why no more.
func TestMoreThanCanGoIsRefused(t *testing.T) {
	for want, told := range map[string][2]int{
		"50 plantings fewer: 12 of the plan's 41 can be taken out; the others have begun, or you keep them; ask for 12 or less": {12, 41},
		"50 plantings fewer: none of the plan's 41 can be taken out; each has begun, or you keep it":                            {0, 41},
		"50 plantings fewer: the plan has only 41; ask for 41 or less":                                                          {41, 41},
	} {
		if got := tooFew(50, told[0], told[1]).Error(); got != want {
			t.Errorf("%v: got %q, want %q", told, got, want)
		}
	}
}
