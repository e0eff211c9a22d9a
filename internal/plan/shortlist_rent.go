package plan

import (
	"context"
	"math"
	"slices"
	"sync"
)

// rent is what everybody has to pay: prices of ground, of overtime minutes, of
// indoor space, and a weight for each year. At any such prices the worth of a set
// of crops is no more than the income from the rents plus, for each crop of the
// set, the most it can add to what its standing plants give, rents paid. So a bound
// on every set is had from one figure a crop.
//
// Why it holds. The risk measure is no more than the years weighted so. What a plan
// uses of ground, minutes and trays is no more than there is, so that the rents it
// pays are no more than the income. What is left splits by crop.
type rent struct {
	p      *Problem
	years  []float64
	weigh  func(years []float64) float64 // replaces the plain sum; nil = that
	wage   []float64
	tray   []float64
	ground []lot
	income float64
	there  *harvest  // of what stands and is fixed
	own    []float64 // by crop: what that is worth, nothing more being planted
}

// lot is a kind of strip with its ground's price, summed up: a candidate pays
// upTo[End]-upTo[Start] for a strip.
type lot struct {
	*soil
	upTo []float64
}

// newRent takes the prices of a part's bound, or a share of them, for rents: the
// fewer the crops, the less the ground is worth. Prices that are no good make the
// bound loose, never false.
func newRent(q *part, d *Duals, share float64) *rent {
	b := newBounder(q.Problem, newTables(q.Problem))
	return b.rent(b.groundWorth(d), d, share)
}

// rent is newRent where it is known what the ground is worth.
func (b *bounder) rent(worth [][]float64, d *Duals, share float64) *rent {
	p := b.p
	r := &rent{p: p, years: d.Years, there: newHarvest(p, p.Fixed)}
	for w := range p.Weeks {
		r.wage, r.tray = append(r.wage, share*d.Wage[w]), append(r.tray, share*d.Tray[w])
	}
	for u, weeks := range worth {
		upTo := make([]float64, p.Weeks+1)
		for w, x := range weeks {
			upTo[w+1] = upTo[w] + share*max(0, x)
		}
		r.ground = append(r.ground, lot{&b.soils[u], upTo})
		r.income += float64(b.soils[u].strips) * upTo[p.Weeks]
	}
	for w := range p.Weeks {
		r.income += p.LabourCap*r.wage[w] + p.trayRoom(w)*r.tray[w]
	}
	for _, pl := range p.Fixed {
		r.income -= float64(pl.Strips)*r.charge(&p.Cands[pl.Cand]) + p.SetupCost
	}
	pt := newPlate(p)
	for c := range p.Crops {
		r.own = append(r.own, r.standing(c, b.shared.larders[c], pt))
	}
	return r
}

// charge is what a strip of a candidate costs, ground and setup unpaid.
func (r *rent) charge(c *Candidate) float64 {
	v := c.Cost
	for k, tenths := range c.Labour {
		v += float64(tenths) / 10 * (r.p.LabourCost + r.wage[c.LabourAt+k])
	}
	for w := c.Tray.From; w < c.Tray.To; w++ {
		v += float64(c.Tray.Hundredths) / 100 * r.tray[w]
	}
	return v
}

// standing is what the table makes of a crop's standing and fixed plants.
func (r *rent) standing(crop int, l *larder, pt *plate) float64 {
	v := 0.0
	for s, q := range r.years {
		grams, picked := r.there.year(crop, s)
		v += q * l.value(pt, grams, picked)
	}
	return v
}

// base is what is proven of no crop at all.
func (r *rent) base() float64 {
	total := r.income
	for _, v := range r.own {
		total += v
	}
	return total
}

// adds is what each crop can add at most, by crop; those that may not be planted
// add nothing. whole is the problem with the candidates of all crops. given
// are prices that prove it well for some of the crops; for the others prices are
// sought.
func (r *rent) adds(ctx context.Context, whole *Problem, given *Duals, crops []int, threads int) []float64 {
	adds, g := make([]float64, len(whole.Crops)), newPlot(whole)
	one := func(c int) {
		s := newSolo(g, r, c)
		v := math.Inf(1)
		if slices.Contains(crops, c) {
			v = s.at(s.mended(given.Produce[c]), 1)
		} else if ctx.Err() == nil {
			v = s.most()
		}
		adds[c] = max(0, v-r.own[c])
	}
	var wg sync.WaitGroup
	for lane := range max(1, threads) {
		wg.Go(func() {
			for c := lane; c < len(adds); c += max(1, threads) {
				if !slices.Contains(whole.Without, c) {
					one(c)
				}
			}
		})
	}
	wg.Wait()
	return adds
}

// solo is one crop with the table to itself, paying rents.
type solo struct {
	*rent
	whole  *Problem
	crop   int
	larder *larder
	plate  *plate
	cands  []*soloCand
	stands []float64 // grams of what stands, [week*years+year]
	first  int       // week before which there is nothing to eat
	stalls stalls    // as rate uses them
	scaled []float64
}

// soloCand is one of its candidates.
type soloCand struct {
	*Candidate
	yield   block
	longest int       // strips that a planting can have at most
	bare    float64   // what a strip costs, ground and setup unpaid
	charge  float64   // the same with a strip's share of a setup
	lots    []float64 // its ground's price by lot; +Inf where it cannot grow
	least   float64   // the cheapest of them
	fair    bool      // the share of the setup is the true one
	rated   bool      // score has been held against rate
	length  int       // of a planting at which rate was best last time
	area    float64
	score   float64
}

// newSolo takes the plot of the problem with the candidates of all crops, bare but
// for what stands and is fixed.
func newSolo(g *plot, r *rent, crop int) *solo {
	whole := g.p
	s := &solo{rent: r, whole: whole, crop: crop, larder: newLarder(whole, &whole.Crops[crop]), plate: newPlate(whole),
		stands: make([]float64, whole.Weeks*whole.Years), first: whole.Weeks, stalls: newStalls(whole)}
	s.scaled = make([]float64, len(s.stands))
	for y := range whole.Years {
		grams, _ := r.there.year(crop, y)
		for w, g := range grams {
			s.stands[w*whole.Years+y] = float64(g)
			if g > 0 {
				s.first = min(s.first, w)
			}
		}
	}
	for i := range whole.Cands {
		if whole.Cands[i].Crop == crop {
			s.add(g, i)
		}
	}
	slices.SortStableFunc(s.cands, func(a, b *soloCand) int { return a.End - b.End })
	return s
}

func (s *solo) add(g *plot, i int) {
	c := &s.whole.Cands[i]
	weeks := pickedWeeks(c.Yield)
	if weeks.from >= weeks.to {
		return
	}
	k := &soloCand{Candidate: c, yield: newBlock(s.whole, weeks, c.Yield), least: math.Inf(1)}
	for u := range s.ground {
		l, cost := &s.ground[u], math.Inf(1)
		if s.whole.MayGrow(i, l.bed) && g.open(i, l.bed, l.strip) {
			cost = l.upTo[c.End] - l.upTo[c.Start]
			k.longest = max(k.longest, l.longest)
		}
		k.lots = append(k.lots, cost)
		k.least = min(k.least, cost)
	}
	if math.IsInf(k.least, 1) || k.longest < c.MinStrips {
		return
	}
	k.bare = s.rent.charge(c)
	k.charge = k.bare + s.whole.SetupCost/float64(k.longest)
	s.first = min(s.first, weeks.from)
	s.cands = append(s.cands, k)
}
