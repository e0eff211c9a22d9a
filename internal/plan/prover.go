package plan

import "math"

// prover drives an ascent in small portions and keeps the best bound found.
type prover struct {
	*ascent
	bound float64 // +Inf before the first
	best  *Duals
	past  []float64 // best bound after each portion
	done  bool      // more steps would hardly help
}

// portion is the number of steps between two evaluations of the bound.
const portion = 25

// newProver starts from a plan: its margins are good first prices.
func newProver(p *Problem, shared *tables, plan []Planting, value float64) *prover {
	b := newBounder(p, shared)
	pr := &prover{ascent: newAscent(b, value), bound: math.Inf(1)}
	strips := 0
	for u := range b.soils {
		strips += b.soils[u].strips
	}
	pr.start(plan, max(value, 0)/float64(strips*p.Weeks))
	pr.look()
	return pr
}

// work makes one portion of steps and evaluates the bound.
func (pr *prover) work() {
	pr.advance(portion)
	pr.look()
	pr.past = append(pr.past, pr.bound)
	if n := len(pr.past); n > 40 {
		pr.done = pr.past[n-41]-pr.bound < 1e-5*math.Abs(pr.bound)
	}
}

func (pr *prover) look() {
	d := pr.duals()
	if v := pr.ascent.bound(d); v < pr.bound {
		// A hair up, so that rounding in the sums cannot make the proof false.
		pr.bound, pr.best = v+1e-9*math.Abs(v)+1e-12, d
	}
}
