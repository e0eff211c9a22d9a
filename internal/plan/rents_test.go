package plan

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// TestAsk_NoRunEarnsMore: were every strip to earn all that it is asked to pay, the best
// run through time would be worth no more on any kind of ground; without setups it would
// be worth the same, and no strip is asked for less than it earns.
func TestAsk_NoRunEarnsMore(t *testing.T) {
	raised := 0
	for seed := range uint64(120) {
		p := randomProblem(rand.New(rand.NewPCG(seed, 59)), medium)
		settle(t, p, seed)
		pr := newProver(p, newTables(p), nil, 0)
		pr.advance(2 * portion)
		d := pr.look()
		b := newBounder(p, pr.shared)
		b.bound(d)
		b.ask(d)
		var before []float64
		for u := range b.soils {
			before = append(before, b.strip(&b.soils[u], d.Family[u]))
		}
		earned := slices.Clone(b.score)
		b.paid = nil // what is asked has setups in it
		for i := range b.score {
			b.score[i] = b.rents[i] - (b.worths[i] - b.score[i]) // its costs
			if p.SetupCost == 0 && b.score[i] < earned[i]-1e-9 && growsSomewhere(b, i) {
				t.Errorf("problem %d: candidate %d is asked for %g less than it earns", seed, i, earned[i]-b.score[i])
			}
			if b.score[i] > earned[i]+1e-6 {
				raised++
			}
		}
		for u := range b.soils {
			// With setups beds of other lengths may be asked for less.
			after, slack := b.strip(&b.soils[u], d.Family[u]), 1e-9*(1+math.Abs(before[u]))
			if after > before[u]+slack || p.SetupCost == 0 && after < before[u]-slack {
				t.Errorf("problem %d: the best run on ground %d went from %g to %g", seed, u, before[u], after)
			}
		}
	}
	if raised < 500 {
		t.Errorf("%d candidates are asked for more than their price: too few to tell", raised)
	}
}

func growsSomewhere(b *bounder, cand int) bool {
	return slices.ContainsFunc(b.soils, func(u soil) bool {
		return slices.ContainsFunc(u.steps, func(st step) bool { return st.cand == cand })
	})
}
