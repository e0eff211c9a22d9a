package plan

import "math"

// grove is one crop's trees: a stretch of the season proves what whole plantings leave
// of the table's gain either by a tree of its own or by those of its two halves,
// whichever leave less. Short stretches have few candidates and so small trees, but let
// a planting picked across their ends pay each end apart. The grove of a table that gains
// nothing has no trees.
type grove struct {
	*splitter          // nil where there is no tree of its own
	halves    []*grove // two or none
}

// shortest is the length in weeks below which no stretch is halved (7 to 16 were tried).
const shortest = 10

// longest is the length of the longest that have a tree: what is split in one part of
// a long stretch must be split again for every split of another (13 to 40 and all
// were tried: down to 25 the shorter proved more in the same time, below about as much).
const longest = 25

func newGrove(pr *prover, crop int, weeks span) *grove {
	from := max(weeks.from, pr.shared.crops[crop].from)
	g := &grove{}
	if weeks.to-from <= longest {
		g.splitter = newSplitter(pr.bounder, crop, weeks, pr.best)
		pr.charge(g.splitter, 0)
	}
	if weeks.to-from >= shortest && (g.splitter == nil || g.start > 1e-9) {
		middle := (from + weeks.to) / 2
		g.halves = []*grove{newGrove(pr, crop, span{weeks.from, middle}), newGrove(pr, crop, span{middle, weeks.to})}
	}
	return g
}

// lowers is by how much the trees lower the crop's table; less than nothing where they
// fall short of what the duals' prices prove without trees.
func (g *grove) lowers() float64 {
	parts := math.Inf(-1)
	if len(g.halves) > 0 {
		parts = g.halves[0].lowers() + g.halves[1].lowers()
	}
	if g.splitter == nil {
		return parts
	}
	return max(g.start-g.value, parts)
}

// best finds the tree in which splits have paid best so far, if it pays more than
// rate, and tells its rate.
func (g *grove) best(rate float64) (*splitter, float64) {
	var best *splitter
	if g.splitter != nil && !g.ended() && g.start > 1e-9 {
		// What it has not brought yet it may still bring, the less likely the longer
		// it was tried in vain.
		if own := (g.root - g.value + hopeShare*math.Abs(g.start)) / (g.spent + 1); own > rate {
			best, rate = g.splitter, own
		}
	}
	for _, half := range g.halves {
		if s, r := half.best(rate); s != nil {
			best, rate = s, r
		}
	}
	return best, rate
}

// proof writes the trees that lower the table most, in order of weeks.
func (g *grove) proof() []Whole {
	if g.splitter != nil && g.start-g.value >= g.lowers() {
		return []Whole{g.tree()}
	}
	return append(g.halves[0].proof(), g.halves[1].proof()...)
}

// plantTrees begins the next crop's trees at the best prices.
func (pr *prover) plantTrees() {
	crop := len(pr.grove)
	if crop == 0 {
		pr.bounder.bound(pr.best)
		pr.bounder.ask(pr.best)
	}
	g := &grove{}
	if pr.bounder.table(crop, pr.best) > 1e-9*math.Abs(pr.ground) {
		g = newGrove(pr, crop, span{0, pr.p.Weeks})
	}
	pr.grove = append(pr.grove, g)
}

// growTrees splits for a while where it has paid best so far, and tells the bound.
func (pr *prover) growTrees() {
	for began := pr.spent; pr.spent < began+treePortion; {
		var next *splitter
		rate := 0.0
		for _, g := range pr.grove {
			if s, r := g.best(rate); s != nil {
				next, rate = s, r
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
	for _, g := range pr.grove {
		v -= max(0, g.lowers())
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
	d.Whole = make([][]Whole, len(pr.p.Crops))
	for c, g := range pr.grove {
		if g.lowers() > 0 {
			d.Whole[c] = g.proof()
		}
	}
	v := pr.bounder.bound(d)
	pr.best, pr.bound = d, hairUp(v)
}
