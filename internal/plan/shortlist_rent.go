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
	own    []float64 // by crop: what stands and is fixed is worth, nothing more being planted
}

// lot is a group of like strips with their ground's price, summed up: a candidate
// pays upTo[End]-upTo[Start] for a strip.
type lot struct {
	bed, strip int // one of them
	strips     int
	longest    int // the longest bed with such a strip
	upTo       []float64
}

// newRent takes the prices of a part's bound, or a share of them, for rents: the
// fewer the crops, the less the ground is worth. Prices that are no good make the
// bound loose, never false.
func newRent(q *part, d *Duals, share float64) *rent {
	r := &rent{p: q.Problem, years: d.Years}
	for w := range q.Weeks {
		r.wage, r.tray = append(r.wage, share*d.Wage[w]), append(r.tray, share*d.Tray[w])
	}
	at := map[*float64]int{}
	for b, strips := range GroundWorth(q.Problem, d) {
		for j, weeks := range strips {
			k, ok := at[&weeks[0]]
			if !ok {
				k = len(r.ground)
				at[&weeks[0]] = k
				upTo := make([]float64, q.Weeks+1)
				for w, x := range weeks {
					upTo[w+1] = upTo[w] + share*max(0, x)
				}
				r.ground = append(r.ground, lot{bed: b, strip: j, upTo: upTo})
			}
			r.ground[k].strips++
			r.ground[k].longest = max(r.ground[k].longest, q.Beds[b].Len)
		}
	}
	for _, l := range r.ground {
		r.income += float64(l.strips) * l.upTo[q.Weeks]
	}
	for w := range q.Weeks {
		r.income += q.LabourCap*r.wage[w] + q.TrayCap*r.tray[w]
	}
	for _, pl := range q.Fixed {
		r.income -= float64(pl.Strips)*r.charge(&q.Cands[pl.Cand]) + q.SetupCost
	}
	for c := range q.Crops {
		r.own = append(r.own, r.standing(c))
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
func (r *rent) standing(crop int) float64 {
	h, pt, v := newHarvest(r.p, r.p.Fixed), newPlate(r.p), 0.0
	l := newLarder(r.p, &r.p.Crops[crop])
	for s, q := range r.years {
		grams, picked := h.year(crop, s)
		v += q * l.value(pt, grams, picked)
	}
	return v
}

// of adds up what is proven of a set of crops, given what each can add.
func (r *rent) of(adds []float64, crops []int) float64 {
	total := r.income
	for _, v := range r.own {
		total += v
	}
	for _, c := range crops {
		total += adds[c]
	}
	return total
}

// adds is what each crop can add at most, by crop; those that may not be planted
// add nothing. whole is the problem with the candidates of all crops. given
// are prices that prove it well for some of the crops; for the others prices are
// sought.
func (r *rent) adds(ctx context.Context, whole *Problem, given *Duals, crops []int, threads int) []float64 {
	adds := make([]float64, len(whole.Crops))
	one := func(c int) {
		s := newSolo(whole, r, c)
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
	stalls []*stall  // by year, as rate uses them
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

func newSolo(whole *Problem, r *rent, crop int) *solo {
	s := &solo{rent: r, whole: whole, crop: crop, larder: newLarder(whole, &whole.Crops[crop]), plate: newPlate(whole),
		stands: make([]float64, whole.Weeks*whole.Years), first: whole.Weeks}
	s.scaled = make([]float64, len(s.stands))
	h := newHarvest(r.p, r.p.Fixed)
	for y := range whole.Years {
		s.stalls = append(s.stalls, newStall(whole))
		grams, _ := h.year(crop, y)
		for w, g := range grams {
			s.stands[w*whole.Years+y] = float64(g)
			if g > 0 {
				s.first = min(s.first, w)
			}
		}
	}
	g := newPlot(r.p)
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
		if mayGrow(s.whole, c, l.bed) && s.open(g, c, l) {
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

// mayGrow is MayGrow for a candidate that need not be among the problem's.
func mayGrow(p *Problem, c *Candidate, bed int) bool {
	b := &p.Beds[bed]
	return b.SunHours >= p.Crops[c.Crop].SunHours && (c.Kinds == 0 || c.Kinds>>uint(b.Kind)&1 == 1)
}

// open says whether a lot's strips are free for a candidate of the crop.
func (s *solo) open(g *plot, c *Candidate, l *lot) bool {
	at := g.base[l.bed] + l.strip
	if crop := &s.whole.Crops[c.Crop]; crop.Rotate && g.families[at]>>crop.Family&1 == 1 {
		return false
	}
	for w := c.Start; w < c.End; w++ {
		if g.taken[at*g.words+w>>6]>>(w&63)&1 == 1 {
			return false
		}
	}
	return true
}
