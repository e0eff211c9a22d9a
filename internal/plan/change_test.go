package plan

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"
)

// changesFrom counts the plantings that only one of two plans has.
func changesFrom(old, now []Planting) int {
	n := 0
	for _, pair := range [2][2][]Planting{{old, now}, {now, old}} {
		for _, pl := range pair[0] {
			if !slices.Contains(pair[1], pl) {
				n++
			}
		}
	}
	return n
}

// TestSolve_ChangesMustBeWorthIt: what is changed of a plan being carried out brings what
// the changes ask, a change dearer than any plan is not made, and the value told is the
// new plan's own.
func TestSolve_ChangesMustBeWorthIt(t *testing.T) {
	changed := 0
	for seed := range uint64(60) {
		p := randomProblem(rand.New(rand.NewPCG(seed, 53)), medium)
		old := Solve(context.Background(), p, Options{Seed: 1, Iterations: 20}, nil)
		for _, asks := range []float64{0.05, 0.5, 1e6} {
			o := Options{Seed: 2, Iterations: 300, Keep: old.Plantings, From: old.Plantings, ChangeCost: asks}
			now := Solve(context.Background(), p, o, func(at Progress) {
				if v, err := Evaluate(p, at.Plantings); err != nil || !near(v.Total, at.Value) {
					t.Errorf("problem %d: told %g of a plan worth %g (%v)", seed, at.Value, v.Total, err)
				}
			})
			v, err := Evaluate(p, now.Plantings)
			if err != nil || v.Total != now.Value {
				t.Errorf("problem %d: value told %g, exact %g (%v)", seed, now.Value, v.Total, err)
			}
			n := changesFrom(old.Plantings, now.Plantings)
			if now.Value-asks*float64(n) < old.Value-1e-9 {
				t.Errorf("problem %d: from %g to %g by %d changes that ask %g each", seed, old.Value, now.Value, n, asks)
			}
			if n > 0 && asks > 1e3 {
				t.Errorf("problem %d: %d changes that nothing could be worth", seed, n)
			}
			changed += n
		}
	}
	if changed < 50 {
		t.Errorf("%d changes over all problems: too few to tell", changed)
	}
}
