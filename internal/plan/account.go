package plan

import (
	"cmp"
	"slices"
)

// account keeps the exact value of the plan on a plot while plantings come and
// go. Only the crops that a move touches are valued again. A move is a run of
// put and lift calls, then settle, then keep or undo.
type account struct {
	*plot
	shared  *tables
	harvest *harvest
	worth   []float64 // per crop and year
	years   []float64 // per year, over all crops
	work    []int64   // tenths of a minute by week
	seed    float64
	total   float64 // value as last settled, less what changes ask
	asks    float64 // what each change asks
	plate   *plate
	order   []float64

	log     []change
	pending []entry // of the move: strips more or less that are not in the harvest yet
	booked  []entry // of the move: those that are
	dirty   []int   // crops touched since the move began
	isDirty []bool
	stale   []bool     // per crop: its pickings have changed within the move since it was priced
	old     []oldWorth // worths before the move
	before  struct {   // sums before the move
		seed, total float64
		years       []float64
	}
}

type change struct {
	planting Planting
	put      bool
}

// entry is a number of strips of a candidate, fewer where negative.
type entry struct{ cand, strips int }

type oldWorth struct {
	crop  int
	years []float64
}

func newAccount(p *Problem, shared *tables) *account {
	a := &account{plot: newPlot(p), shared: shared, harvest: newHarvest(p, nil),
		worth: make([]float64, len(p.Crops)*p.Years), years: make([]float64, p.Years),
		work: make([]int64, p.Weeks), plate: newPlate(p), order: make([]float64, p.Years),
		isDirty: make([]bool, len(p.Crops)), stale: make([]bool, len(p.Crops))}
	a.before.years = make([]float64, p.Years)
	for c := range p.Crops {
		a.touch(c)
	}
	for _, pl := range p.Fixed {
		a.pend(pl.Cand, pl.Strips)
	}
	a.settle()
	a.begin()
	return a
}

// begin opens a move; what was settled before it is final.
func (a *account) begin() {
	for _, ch := range a.log {
		a.stale[a.p.Cands[ch.planting.Cand].Crop] = false
	}
	a.log, a.old, a.pending, a.booked = a.log[:0], a.old[:0], a.pending[:0], a.booked[:0]
	for _, c := range a.dirty {
		a.isDirty[c] = false
	}
	a.dirty = a.dirty[:0]
	a.before.seed, a.before.total = a.seed, a.total
	copy(a.before.years, a.years)
}

func (a *account) touch(crop int) {
	if !a.isDirty[crop] {
		a.isDirty[crop] = true
		a.dirty = append(a.dirty, crop)
	}
}

// put adds a planting that fits.
func (a *account) put(pl Planting) {
	a.plot.put(pl)
	a.pend(pl.Cand, pl.Strips)
	a.log = append(a.log, change{pl, true})
}

// lift takes out the i-th planting of a bed.
func (a *account) lift(bed, i int) Planting {
	pl := a.plot.lift(bed, i)
	a.pend(pl.Cand, -pl.Strips)
	a.log = append(a.log, change{pl, false})
	return pl
}

// pend notes strips of a candidate for book: of many a move the parts cancel out, and
// many are given up before anybody asks for the harvest.
func (a *account) pend(cand, strips int) {
	a.stale[a.p.Cands[cand].Crop] = true
	for i := range a.pending {
		if a.pending[i].cand == cand {
			a.pending[i].strips += strips
			return
		}
	}
	a.pending = append(a.pending, entry{cand, strips})
}

// book enters what is pending in the harvest, the work and the cost of seed.
func (a *account) book() {
	for _, e := range a.pending {
		if e.strips != 0 {
			a.touch(a.p.Cands[e.cand].Crop)
			a.enter(e)
			a.booked = append(a.booked, e)
		}
	}
	a.pending = a.pending[:0]
}

// enter puts strips in the sums, or takes them out.
func (a *account) enter(e entry) {
	c := &a.p.Cands[e.cand]
	a.harvest.add(c.Crop, c.Yield, e.strips)
	for k, tenths := range c.Labour {
		a.work[c.LabourAt+k] += int64(tenths) * int64(e.strips)
	}
	a.seed += c.Cost * float64(e.strips)
}

// settle values the plan as it now stands and returns its total.
func (a *account) settle() float64 {
	a.book()
	for _, c := range a.dirty {
		a.remember(c)
	}
	for s := range a.years {
		a.settleYear(s)
	}
	a.total = a.shared.risk.value(a.years, a.order) - a.costs()
	return a.total
}

// settleYear values one year of the crops touched and tells how much more it is worth.
func (a *account) settleYear(s int) float64 {
	more := 0.0
	for _, c := range a.dirty {
		grams, picked := a.harvest.year(c, s)
		worth := &a.worth[c*a.p.Years+s]
		v := a.shared.larders[c].value(a.plate, grams, picked)
		more += v - *worth
		*worth = v
	}
	a.years[s] += more
	return more
}

// changeFrom makes every planting that an old plan has not, and every one of it left out,
// cost what a change asks.
func (a *account) changeFrom(old []Planting, asks float64) {
	a.from, a.asks = map[Planting]bool{}, asks
	for _, pl := range old {
		a.from[pl] = true
	}
	a.changes = len(a.from)
	for _, bed := range a.beds {
		for _, pl := range bed {
			a.changes += a.change(pl)
		}
	}
	a.settle()
	a.begin()
}

// costs is what the plan as booked costs in seed, labour, setups and changes.
func (a *account) costs() float64 {
	return a.seed + a.labour() + a.p.SetupCost*float64(a.count) + a.asked()
}

// asked is what the plan's changes ask.
func (a *account) asked() float64 { return a.asks * float64(a.changes) }

// labour is the cost of all minutes with overtime.
func (a *account) labour() float64 {
	var all, over float64
	limit := a.p.LabourCap * 10
	for _, tenths := range a.work {
		t := float64(tenths)
		all += t
		if t > limit {
			over += t - limit
		}
	}
	return (all*a.p.LabourCost + over*a.p.OvertimeCost) / 10
}

// remember keeps a crop's worths as they were before the move, once per move.
func (a *account) remember(crop int) {
	for i := range a.old {
		if a.old[i].crop == crop {
			return
		}
	}
	if len(a.old) < cap(a.old) {
		a.old = a.old[:len(a.old)+1]
	} else {
		a.old = append(a.old, oldWorth{})
	}
	o := &a.old[len(a.old)-1]
	o.crop = crop
	o.years = append(o.years[:0], a.worth[crop*a.p.Years:(crop+1)*a.p.Years]...)
}

// undo takes the whole move back, settled or not.
func (a *account) undo() {
	for i := len(a.log) - 1; i >= 0; i-- {
		ch := a.log[i]
		if ch.put {
			a.plot.lift(ch.planting.Bed, a.find(ch.planting))
		} else {
			a.plot.put(ch.planting)
		}
	}
	for _, e := range a.booked {
		a.enter(entry{e.cand, -e.strips})
	}
	for i := range a.old {
		copy(a.worth[a.old[i].crop*a.p.Years:], a.old[i].years)
	}
	a.seed, a.total = a.before.seed, a.before.total
	copy(a.years, a.before.years)
	a.begin()
}

func sortPlantings(p *Problem, all []Planting) {
	slices.SortFunc(all, func(x, y Planting) int {
		return cmp.Or(cmp.Compare(x.Bed, y.Bed), cmp.Compare(x.Strip, y.Strip),
			cmp.Compare(p.Cands[x.Cand].Start, p.Cands[y.Cand].Start), cmp.Compare(x.Cand, y.Cand), cmp.Compare(x.Strips, y.Strips))
	})
}
