package plan

import "math"

// prover drives an ascent in small portions and keeps the best bound found.
type prover struct {
	*ascent
	bound float64 // +Inf before the first
	best  *Duals
	past  []float64 // best bound after each portion
	done  bool      // more steps would hardly help

	linear int // how often the ascent has been told of setups
}

// portion is the number of steps between two evaluations of the bound.
const portion = 25

// setupPortion is the like where plantings cost, and the bound takes longer;
// setupBlend the weight of new against old linearisations at first, setupDecay how
// fast it falls. Found by trial.
const (
	setupPortion = 50
	setupBlend   = 0.4
	setupDecay   = 0.03
)

// newProver starts from a plan: its margins are good first prices.
func newProver(p *Problem, shared *tables, plan []Planting, value float64) *prover {
	b := newBounder(p, shared)
	pr := &prover{ascent: newAscent(b, value), bound: math.Inf(1)}
	strips := 0
	for u := range b.soils {
		strips += b.soils[u].strips
	}
	pr.start(plan, max(value, 0)/float64(strips*p.Weeks))
	d := pr.look()
	if pr.paid != nil {
		pr.linearise(d)
	}
	return pr
}

// work makes one portion of steps and evaluates the bound.
func (pr *prover) work() {
	if pr.paid == nil {
		pr.advance(portion)
		pr.look()
	} else {
		pr.advance(setupPortion)
		pr.linearise(pr.look())
	}
	pr.past = append(pr.past, pr.bound)
	if n := len(pr.past); n > 40 {
		pr.done = pr.past[n-41]-pr.bound < 1e-5*math.Abs(pr.bound)
	}
}

// linearise has the ascent go by what setups make of yields at these prices. New
// and old are blended, else it would swing from one planting to the next.
func (pr *prover) linearise(d *Duals) {
	blend := setupBlend / (1 + float64(pr.linear)*setupDecay)
	if pr.linear == 0 {
		blend = 1
	}
	pr.linear++
	pr.paid.linear(d, pr.toll, blend)
}

// look evaluates the bound at the present prices, which it returns mended. (Their
// running mean was tried too: it is no better, since they do not swing.)
func (pr *prover) look() *Duals {
	d := pr.duals()
	if v := pr.ascent.bound(d); v < pr.bound {
		// A hair up, so that rounding in the sums cannot make the proof false.
		pr.bound, pr.best = v+1e-9*math.Abs(v)+1e-12, d
	}
	return d
}
