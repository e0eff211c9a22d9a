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
	total   float64 // value as last settled
	plate   *plate
	order   []float64

	log     []change
	dirty   []int // crops touched since the move began
	isDirty []bool
	fresh   []bool     // per crop: the market's prices are of the present harvest
	was     []bool     // fresh as before the move, for dirty crops
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

type oldWorth struct {
	crop  int
	years []float64
}

func newAccount(p *Problem, shared *tables) *account {
	a := &account{plot: newPlot(p), shared: shared, harvest: newHarvest(p, nil),
		worth: make([]float64, len(p.Crops)*p.Years), years: make([]float64, p.Years),
		work: make([]int64, p.Weeks), plate: newPlate(p), order: make([]float64, p.Years),
		isDirty: make([]bool, len(p.Crops)), fresh: make([]bool, len(p.Crops)), was: make([]bool, len(p.Crops))}
	a.before.years = make([]float64, p.Years)
	for c := range p.Crops {
		a.touch(c)
	}
	for _, pl := range p.Fixed {
		a.book(pl, pl.Strips)
	}
	a.settle()
	a.begin()
	return a
}

// begin opens a move; what was settled before it is final.
func (a *account) begin() {
	a.log, a.old = a.log[:0], a.old[:0]
	for _, c := range a.dirty {
		a.isDirty[c], a.was[c] = false, false
	}
	a.dirty = a.dirty[:0]
	a.before.seed, a.before.total = a.seed, a.total
	copy(a.before.years, a.years)
}

func (a *account) touch(crop int) {
	if !a.isDirty[crop] {
		a.isDirty[crop] = true
		a.was[crop] = a.fresh[crop]
		a.dirty = append(a.dirty, crop)
	}
	a.fresh[crop] = false
}

// put adds a planting that fits.
func (a *account) put(pl Planting) {
	a.plot.put(pl)
	a.book(pl, pl.Strips)
	a.log = append(a.log, change{pl, true})
}

// lift takes out the i-th planting of a bed.
func (a *account) lift(bed, i int) Planting {
	pl := a.plot.lift(bed, i)
	a.book(pl, -pl.Strips)
	a.log = append(a.log, change{pl, false})
	return pl
}

func (a *account) book(pl Planting, strips int) {
	c := &a.p.Cands[pl.Cand]
	a.harvest.add(c.Crop, c.Yield, strips)
	for k, tenths := range c.Labour {
		a.work[c.LabourAt+k] += int64(tenths) * int64(strips)
	}
	a.seed += c.Cost * float64(strips)
	a.touch(c.Crop)
}

// settle values the plan as it now stands and returns its total.
func (a *account) settle() float64 {
	n := a.p.Years
	for _, c := range a.dirty {
		worth := a.worth[c*n : (c+1)*n]
		a.remember(c, worth)
		for s := range worth {
			grams, picked := a.harvest.year(c, s)
			v := a.shared.larders[c].value(a.plate, grams, picked)
			a.years[s] += v - worth[s]
			worth[s] = v
		}
	}
	a.total = a.shared.risk.value(a.years, a.order) - a.seed - a.labour() - a.p.SetupCost*float64(a.count)
	return a.total
}

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
func (a *account) remember(crop int, worth []float64) {
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
	o.years = append(o.years[:0], worth...)
}

// undo takes the whole move back, settled or not.
func (a *account) undo() {
	for i := len(a.log) - 1; i >= 0; i-- {
		ch := a.log[i]
		if ch.put {
			a.plot.lift(ch.planting.Bed, a.find(ch.planting))
			a.book(ch.planting, -ch.planting.Strips)
		} else {
			a.plot.put(ch.planting)
			a.book(ch.planting, ch.planting.Strips)
		}
	}
	for i := range a.old {
		copy(a.worth[a.old[i].crop*a.p.Years:], a.old[i].years)
	}
	for _, c := range a.dirty {
		a.fresh[c] = a.was[c]
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
