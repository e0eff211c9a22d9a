package plan

import "math"

// plane bounds a table's worth: no more than base + slope x strips.
type plane struct {
	base  float64
	slope []float64 // by place in counter.cands
}

// counter is one crop's table in a span of weeks as whole strips see it.
type counter struct {
	b      *bounder
	crop   int
	weeks  span
	larder *larder // of the span's slots alone
	cands  []int   // those picked in the span
	place  map[int]int
	least  []int     // strips of a planting at least
	most   []int     // strips over the whole garden
	rent   []float64 // what a strip pays in the span: its share of bounder.rents
	setup  []float64 // what a planting pays there of its setup
	enter  []float64 // by year: the price held to where the span begins; nil at the season's start
	leave  []float64 // the like where it ends; nil at the season's end

	low, high []int // of the leaf at hand
	*ledger
}

// ledger is what the counters of a bounder share, one at a time.
type ledger struct {
	given  *harvest  // grams picked anyhow
	prices []float64 // scratch from here on, [week*years+year]
	grams  []float64
	whole  []int32
	picked []uint64
	plate  *plate
}

func newLedger(p *Problem) *ledger {
	return &ledger{given: newHarvest(p, p.Fixed), prices: make([]float64, p.Weeks*p.Years), grams: make([]float64, p.Weeks*p.Years),
		whole: make([]int32, p.Weeks), picked: make([]uint64, (p.Weeks+63)/64), plate: newPlate(p)}
}

func newCounter(b *bounder, crop int, weeks span) *counter {
	p := b.p
	if b.ledger == nil {
		b.ledger = newLedger(p)
	}
	k := &counter{b: b, crop: crop, weeks: weeks, place: map[int]int{}, larder: b.shared.larders[crop], ledger: b.ledger}
	if weeks != (span{0, p.Weeks}) {
		k.larder = larderIn(p, &p.Crops[crop], weeks)
	}
	for _, i := range b.shared.byCrop[crop] {
		if pickedIn(&p.Cands[i], weeks) {
			k.place[i] = len(k.cands)
			k.cands = append(k.cands, i)
			k.least = append(k.least, max(1, p.Cands[i].MinStrips))
		}
	}
	n := len(k.cands)
	k.most, k.low, k.high = make([]int, n), make([]int, n), make([]int, n)
	for u := range b.soils {
		for _, st := range b.soils[u].steps {
			if j, ok := k.place[st.cand]; ok {
				k.most[j] += b.soils[u].strips
			}
		}
	}
	for j, i := range k.cands {
		if m := p.Cands[i].MaxStrips; m > 0 {
			for _, pl := range p.Fixed {
				if pl.Cand == i {
					m -= pl.Strips
				}
			}
			k.most[j] = min(k.most[j], m)
		}
	}
	return k
}

// pickedIn says whether a candidate is ever picked in a span.
func pickedIn(c *Candidate, weeks span) bool {
	all := pickedWeeks(c.Yield)
	return all.from < weeks.to && all.to > weeks.from
}

// own is the plane of the duals' own prices, which must be mended. Rents and setups are
// shared out to spans as the pickings' worth is at these prices.
func (k *counter) own(d *Duals) plane {
	price := d.Produce[k.crop]
	if k.weeks.from > 0 {
		k.enter = k.edge(price, k.weeks.from)
	}
	if k.weeks.to < k.b.p.Weeks {
		k.leave = k.edge(price, k.weeks.to)
	}
	copy(k.prices, price)
	pl := k.plane(d.Years)
	k.rent, k.setup = make([]float64, len(k.cands)), make([]float64, len(k.cands))
	for j, i := range k.cands {
		if all := k.b.worths[i]; all > 0 {
			share := pl.slope[j] / all
			k.rent[j], k.setup[j] = share*k.b.rents[i], share*k.b.p.SetupCost
		}
	}
	return pl
}

// edge is the price by year that spans are held to where a week begins: half-way, in
// proportion, between that week's own price and the most that the one before allows.
// No price before it may be less than what it is after the loss of keeping, none after
// it more; the own prices keep to that.
func (k *counter) edge(price []float64, week int) []float64 {
	n, keep := k.b.p.Years, k.b.p.Crops[k.crop].Keep
	at := make([]float64, n)
	for s := range at {
		if at[s] = math.Inf(1); keep > 0 {
			at[s] = math.Sqrt(price[week*n+s] * (price[(week-1)*n+s] / keep))
		}
	}
	return at
}

// at is the plane of the prices at the margin of a harvest.
func (k *counter) at(years []float64, point []Part) plane {
	k.margin(years, point)
	return k.plane(years)
}

// margin puts the prices at the margin of a harvest into k.prices.
func (k *counter) margin(years []float64, point []Part) {
	p := k.b.p
	clear(k.grams)
	for _, part := range point {
		y := &k.b.shared.yields[part.Cand]
		for i, g := range y.grams {
			k.grams[y.from*p.Years+i] += g * part.Strips
		}
	}
	from := max(k.weeks.from, k.b.shared.crops[k.crop].from)
	clear(k.whole)
	clear(k.prices)
	for s, q := range years {
		given, _ := k.given.year(k.crop, s)
		clear(k.picked)
		for w := from; w < k.weeks.to; w++ {
			// Whole grams, as the larder takes them: any prices prove some plane.
			k.whole[w] = given[w] + int32(k.grams[w*p.Years+s])
			if k.whole[w] > 0 {
				k.picked[w>>6] |= 1 << (w & 63)
			}
		}
		k.larder.prices(k.plate, k.whole, k.picked, from, k.weeks.to, q, k.prices[s:], p.Years)
	}
	k.hold()
	k.b.mend(k.crop, k.prices)
}

// hold brings k.prices within what the span's ends allow.
func (k *counter) hold() {
	n, keep := k.b.p.Years, k.b.p.Crops[k.crop].Keep
	for s := range n {
		if k.leave != nil && keep > 0 {
			least := k.leave[s]
			for w := k.weeks.to - 1; w >= k.weeks.from; w-- {
				least *= keep
				k.prices[w*n+s] = max(k.prices[w*n+s], least)
			}
		}
		if k.enter != nil && keep > 0 {
			most := k.enter[s]
			for w := k.weeks.from; w < k.weeks.to; w++ {
				k.prices[w*n+s] = min(k.prices[w*n+s], most)
				most /= keep
			}
		}
	}
}

// plane makes the plane of k.prices, which must be mended.
func (k *counter) plane(years []float64) plane {
	pl := plane{k.b.tableAt(k.crop, years, k.prices, k.weeks) + k.worthGiven(k.prices), make([]float64, len(k.cands))}
	for j, i := range k.cands {
		y := k.b.shared.yields[i].within(k.weeks, k.b.p.Years)
		pl.slope[j] = y.dot(k.prices, k.b.p.Years)
	}
	return pl
}

// worthGiven is what is picked anyhow in the span at prices.
func (k *counter) worthGiven(prices []float64) float64 {
	total, years := 0.0, k.b.p.Years
	for s := range years {
		given, _ := k.given.year(k.crop, s)
		for w := k.weeks.from; w < k.weeks.to; w++ {
			total += float64(given[w]) * prices[w*years+s]
		}
	}
	return total
}

// lowers is by how much the tree lowers what the table could gain in the span by
// buying at the duals' prices; less than nothing where it falls short of that.
func (k *counter) lowers(w *Whole, d *Duals) float64 {
	planes := []plane{k.own(d)}
	k.heed(w.Limits, d.Years)
	for _, point := range w.Points {
		planes = append(planes, k.at(d.Years, point))
	}
	clear(k.low)
	copy(k.high, k.most)
	at := 0
	var walk func() float64
	walk = func() float64 {
		n := &w.Nodes[at]
		at++
		if len(n.Mix) > 0 {
			return k.leaf(n.Mix, planes)
		}
		j := k.place[n.Cand]
		low, high := k.low[j], k.high[j]
		k.high[j] = min(high, n.Most)
		v := walk()
		k.low[j], k.high[j] = max(low, n.Most+1), high
		v = max(v, walk())
		k.low[j], k.high[j] = low, high
		return v
	}
	return planes[0].base - walk()
}

// leaf is the most of a mixture of planes over the box at hand: -Inf where no
// plantings are in it.
func (k *counter) leaf(mix []Weight, planes []plane) float64 {
	total := 0.0
	slope := make([]float64, len(k.cands))
	sum := 0.0
	for _, w := range mix {
		sum += w.Share
	}
	for _, w := range mix {
		total += w.Share / sum * planes[w.Plane].base
		for j, x := range planes[w.Plane].slope {
			slope[j] += w.Share / sum * x
		}
	}
	for j := range slope {
		total += corner(slope[j]-k.rent[j], k.setup[j], k.low[j], k.high[j], k.least[j])
	}
	return total
}

// corner is the most that strips earn at a rate, if they are low to high and none or
// at least least, and any of them cost a setup.
func corner(rate, setup float64, low, high, least int) float64 {
	best := math.Inf(-1)
	if low == 0 {
		best = 0
	}
	if low = max(low, least); low <= high {
		best = max(best, rate*float64(low)-setup, rate*float64(high)-setup)
	}
	return best
}
