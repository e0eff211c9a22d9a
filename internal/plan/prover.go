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

	trees  bool     // the ascent has slowed and trees are grown instead
	grove  []*grove // per crop, as far as begun
	ground float64  // bound of best without trees
	spent  float64  // what the trees have cost, in the ascent's steps
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

// work makes one portion of steps and evaluates the bound; late is the share of the
// run that is over. Once the steps bring little, trees are grown instead.
func (pr *prover) work(late float64) {
	switch {
	case pr.trees:
		if len(pr.grove) < len(pr.p.Crops) {
			pr.plantTrees()
		} else {
			pr.growTrees()
		}
		return
	case pr.paid == nil:
		pr.advance(portion)
		pr.look()
	default:
		pr.advance(setupPortion)
		pr.linearise(pr.look())
	}
	pr.past = append(pr.past, pr.bound)
	ended := pr.slowed(40, 1e-5)
	if ended || late >= treesFrom && !pr.falling() {
		pr.trees, pr.ground = true, pr.bound
	}
}

// treesFrom is the share of a run from which trees take the place of steps that still
// bring a little (0.4 to 0.7 were tried: a tree brings more, but from prices that the
// steps have made good).
const treesFrom = 0.55

// slowed says that so many portions have lowered the bound by less than a share.
func (pr *prover) slowed(portions int, share float64) bool {
	n := len(pr.past)
	return n > portions && pr.past[n-1-portions]-pr.bound < share*math.Abs(pr.bound)
}

// falling says that the last third of the steps has brought so much that more of them
// will bring more than trees, as on gardens in their first ten seconds.
func (pr *prover) falling() bool {
	n := len(pr.past)
	return pr.past[n*2/3]-pr.bound > fallingShare*math.Abs(pr.bound)
}

const fallingShare = 5e-3

// used is the work done so far, counted in steps.
func (pr *prover) used() float64 { return float64(pr.n) + pr.spent }

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
		pr.bound, pr.best = hairUp(v), d
	}
	return d
}

// hairUp lifts a bound a hair, so that rounding in the sums cannot make the proof
// false.
func hairUp(v float64) float64 { return v + 1e-9*math.Abs(v) + 1e-12 }
