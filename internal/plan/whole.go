package plan

import (
	"fmt"
	"math"
)

// Whole proves how little a crop's table can gain from whole plantings: no split
// strips, none shorter than its least. Areas may be split at will; this is what the
// relaxation does not see. It is for problems whose plantings cost no setup.
//
// The table's worth is concave in the strips, so prices at the margin of any harvest
// bound it from above by a plane. Nodes is a tree in preorder: an inner node splits
// by a candidate's strips, and its two parts follow, fewer first; a leaf mixes planes,
// and their mixture is largest at a corner of the leaf's box. The worst leaf counts.
type Whole struct {
	Points [][]Part `json:"points,omitempty"` // harvests: strips by candidate
	Nodes  []Node   `json:"nodes,omitempty"`  // none: no proof for this crop
}

// Part is strips of a candidate, not always whole.
type Part struct {
	Cand   int     `json:"cand"`
	Strips float64 `json:"strips"`
}

// Node splits at Most strips of Cand, or is a leaf, and then has a Mix.
type Node struct {
	Cand int      `json:"cand,omitempty"`
	Most int      `json:"most,omitempty"`
	Mix  []Weight `json:"mix,omitempty"`
}

// Weight is a plane's share in a leaf: plane 0 has the duals' own prices, plane k
// the prices at the margin of Points[k-1].
type Weight struct {
	Plane int     `json:"plane"`
	Share float64 `json:"share"`
}

// checkWhole refuses trees that do not fit the crops.
func (p *Problem) checkWhole(all []Whole) error {
	if len(all) != 0 && len(all) != len(p.Crops) {
		return fmt.Errorf("whole: trees for %d crops, want %d or none", len(all), len(p.Crops))
	}
	for c := range all {
		at := func(what string) error { return fmt.Errorf("whole[%d]: %s does not fit the crop", c, what) }
		own := func(cand int) bool { return cand >= 0 && cand < len(p.Cands) && p.Cands[cand].Crop == c }
		for _, point := range all[c].Points {
			for _, part := range point {
				if !own(part.Cand) || !within(part.Strips, 0, maxGround) {
					return at("a point")
				}
			}
		}
		owed := 1 // nodes still to come
		for _, n := range all[c].Nodes {
			owed--
			if owed < 0 {
				return at("the tree's end")
			}
			if len(n.Mix) == 0 {
				owed += 2
				if !own(n.Cand) || n.Most < 0 || n.Most > maxGround {
					return at("a split")
				}
				continue
			}
			sum := 0.0
			for _, w := range n.Mix {
				if w.Plane < 0 || w.Plane > len(all[c].Points) || !within(w.Share, 0, 2) {
					return at("a leaf")
				}
				sum += w.Share
			}
			if !(math.Abs(sum-1) < 1e-6) {
				return at("the sum of a leaf's shares")
			}
		}
		if len(all[c].Nodes) > 0 && owed != 0 {
			return at("the tree's end")
		}
	}
	return nil
}

// plane bounds a table's worth: no more than base + slope x strips.
type plane struct {
	base  float64
	slope []float64 // by place in counter.cands
}

// counter is one crop's table as whole strips see it.
type counter struct {
	b     *bounder
	crop  int
	cands []int
	place map[int]int
	least []int     // strips of a planting at least
	most  []int     // strips over the whole garden
	rent  []float64 // what a strip pays the ground, by the duals' own prices
	given []int32   // grams picked anyhow, [year*weeks+week]

	low, high []int // of the leaf at hand
	prices    []float64
	grams     []float64
	whole     []int32
	picked    []uint64
	plate     *plate
}

func newCounter(b *bounder, crop int) *counter {
	p := b.p
	n := len(b.shared.byCrop[crop])
	k := &counter{b: b, crop: crop, cands: b.shared.byCrop[crop], place: map[int]int{},
		least: make([]int, n), most: make([]int, n), low: make([]int, n), high: make([]int, n),
		given: make([]int32, p.Years*p.Weeks), prices: make([]float64, p.Weeks*p.Years), grams: make([]float64, p.Weeks*p.Years),
		whole: make([]int32, p.Weeks), picked: make([]uint64, (p.Weeks+63)/64), plate: newPlate(p)}
	for j, i := range k.cands {
		k.place[i] = j
		k.least[j] = max(1, p.Cands[i].MinStrips)
	}
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
	h := newHarvest(p, p.Fixed)
	for s := range p.Years {
		grams, _ := h.year(crop, s)
		copy(k.given[s*p.Weeks:], grams)
	}
	return k
}

// own is the plane of the duals' own prices, which must be mended; the rents are its
// slopes.
func (k *counter) own(d *Duals) plane {
	copy(k.prices, d.Produce[k.crop])
	pl := k.plane(d.Years)
	k.rent = pl.slope
	return pl
}

// at is the plane of the prices at the margin of a harvest.
func (k *counter) at(years []float64, point []Part) plane {
	p, live := k.b.p, k.b.lives[k.crop]
	clear(k.grams)
	for _, part := range point {
		y := &k.b.shared.yields[part.Cand]
		for i, g := range y.grams {
			k.grams[y.from*p.Years+i] += g * part.Strips
		}
	}
	clear(k.prices)
	for s, q := range years {
		clear(k.picked)
		for w := range p.Weeks {
			// Whole grams, as the larder takes them: any prices prove some plane.
			k.whole[w] = k.given[s*p.Weeks+w] + int32(k.grams[w*p.Years+s])
			if k.whole[w] > 0 {
				k.picked[w>>6] |= 1 << (w & 63)
			}
		}
		k.b.shared.larders[k.crop].prices(k.plate, k.whole, k.picked, live.from, live.to, q, k.prices[s:], p.Years)
		for w := live.to; w < p.Weeks; w++ {
			k.prices[w*p.Years+s] = q * k.b.dears[k.crop]
		}
	}
	k.b.mend(k.crop, k.prices)
	return k.plane(years)
}

// plane makes the plane of k.prices, which must be mended.
func (k *counter) plane(years []float64) plane {
	p := k.b.p
	pl := plane{k.b.tableAt(k.crop, years, k.prices) + k.worthGiven(k.prices), make([]float64, len(k.cands))}
	for j, i := range k.cands {
		pl.slope[j] = k.b.shared.yields[i].dot(k.prices, p.Years)
	}
	return pl
}

// worthGiven is what is picked anyhow at prices.
func (k *counter) worthGiven(prices []float64) float64 {
	total := 0.0
	for i, g := range k.given {
		if g != 0 {
			s, w := i/k.b.p.Weeks, i%k.b.p.Weeks
			total += float64(g) * prices[w*k.b.p.Years+s]
		}
	}
	return total
}

// gain is the most that the tree says of the table's gain by buying at the duals'
// prices: what bounder.table says without it.
func (k *counter) gain(w *Whole, d *Duals) float64 {
	planes := []plane{k.own(d)}
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
	return walk() - k.worthGiven(d.Produce[k.crop])
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
		total += corner(slope[j]-k.rent[j], k.low[j], k.high[j], k.least[j])
	}
	return total
}

// corner is the most that strips earn at a rate, if they are low to high and none or
// at least least.
func corner(rate float64, low, high, least int) float64 {
	best := math.Inf(-1)
	if low == 0 {
		best = 0
	}
	if low = max(low, least); low <= high {
		best = max(best, rate*float64(low), rate*float64(high))
	}
	return best
}
