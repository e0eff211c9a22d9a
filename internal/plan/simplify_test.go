package plan

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"
)

// TestSimplify: every step has one planting fewer, keeps the rules, is worth what
// it says, and takes the least that dropping a planting can cost.
func TestSimplify(t *testing.T) {
	for seed := range uint64(20) {
		p := randomProblem(rand.New(rand.NewPCG(seed, 41)), medium)
		settle(t, p, seed)
		res := Solve(context.Background(), p, Options{Seed: 1, Iterations: 300}, nil)
		steps := Simplify(p, res.Plantings, 4)
		if want := min(4, len(res.Plantings)-len(p.Fixed)); len(steps) != want {
			t.Fatalf("problem %d: %d steps, want %d", seed, len(steps), want)
		}
		from := res.Plantings
		for k, st := range steps {
			v, err := Evaluate(p, st.Plantings)
			if err != nil || math.Abs(v.Total-st.Value) > 1e-8*(1+math.Abs(v.Total)) || len(Validate(p, st.Plantings)) > 0 {
				t.Fatalf("problem %d step %d: told %g, exact %g (%v), %v", seed, k, st.Value, v.Total, err, Validate(p, st.Plantings))
			}
			if len(st.Plantings) != len(from)-1 {
				t.Fatalf("problem %d step %d: from %d to %d plantings", seed, k, len(from), len(st.Plantings))
			}
			for i := len(p.Fixed); i < len(from); i++ {
				less := append(append([]Planting(nil), from[:i]...), from[i+1:]...)
				if len(Validate(p, less)) > 0 {
					continue // it was fixed
				}
				if w, _ := Evaluate(p, less); w.Total > st.Value+1e-8*(1+math.Abs(w.Total)) {
					t.Fatalf("problem %d step %d: worth %g, but without planting %d it would be %g", seed, k, st.Value, i, w.Total)
				}
			}
			from = st.Plantings
		}
	}
}

// TestPeriodWorth: the periods of a bed add up to what a strip is worth in all.
func TestPeriodWorth(t *testing.T) {
	p := randomProblem(rand.New(rand.NewPCG(4, 23)), medium)
	res := Solve(context.Background(), p, Options{Seed: 1, Iterations: 300}, nil)
	all := GroundWorth(p, res.Duals)
	some := false
	for b, periods := range PeriodWorth(p, res.Duals, []int{0, p.Weeks / 3, p.Weeks / 2}) {
		want, got := 0.0, 0.0
		for _, strip := range all[b] {
			for _, v := range strip {
				want += v / float64(len(all[b]))
			}
		}
		for _, v := range periods {
			got += v
		}
		some = some || got > 0
		if math.Abs(got-want) > 1e-9*(1+want) {
			t.Errorf("bed %d: periods add up to %g, weeks to %g", b, got, want)
		}
	}
	if !some {
		t.Error("ground is worth nothing anywhere")
	}
}
