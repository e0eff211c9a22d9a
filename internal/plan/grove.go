package plan

import "math"

// plantTree begins the next crop's tree at the best prices.
func (pr *prover) plantTree() {
	s := newSplitter(pr.bounder, len(pr.grove), pr.best)
	pr.grove = append(pr.grove, s)
	pr.charge(s, 0)
}

// growTrees splits for a while where it has paid best so far, and tells the bound.
func (pr *prover) growTrees() {
	for began := pr.spent; pr.spent < began+treePortion; {
		var next *splitter
		best := 0.0
		for _, s := range pr.grove {
			if s.ended() || s.start <= 1e-9 {
				continue
			}
			// What it has not brought yet it may still bring, the less likely the
			// longer it was tried in vain.
			if rate := (s.lowers() + hopeShare*math.Abs(s.start)) / (s.spent + 1); rate > best {
				next, best = s, rate
			}
		}
		if next == nil {
			pr.done = true
			break
		}
		before := next.spent
		next.split()
		pr.charge(next, before)
	}
	v := pr.ground
	for _, s := range pr.grove {
		v -= s.lowers()
	}
	pr.bound = min(pr.bound, hairUp(v))
}

// The steps' worth of work between two bounds told, and the share of a table that a
// tree is hoped to take off (0.001 to 0.01 were tried: little between them).
const (
	treePortion = 20
	hopeShare   = 0.003
)

// charge counts what a tree has cost since before, in the ascent's steps.
func (pr *prover) charge(s *splitter, before float64) {
	step := 8.0 * float64(pr.p.Weeks*pr.p.Years*len(pr.p.Crops))
	for i := range pr.shared.yields {
		step += 2 * float64(len(pr.shared.yields[i].grams))
	}
	pr.spent += (s.spent - before + 1) / step
}

// finish puts the trees into the duals and works the bound out from them.
func (pr *prover) finish() {
	if pr.grove == nil {
		return
	}
	d := pr.best.clone()
	d.Whole = make([]Whole, len(pr.p.Crops))
	for c, s := range pr.grove {
		if s.lowers() > 0 {
			d.Whole[c] = s.tree()
		}
	}
	v := pr.bounder.bound(d)
	pr.best, pr.bound = d, hairUp(v)
}
