package plan

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// auditWhole is how much less a crop's table gains by buying what whole plantings can
// pick, as the duals' trees say (see Whole), span by span. own has the crop's own
// prices, lifted.
func auditWhole(p *Problem, d *Duals, c int, own auditPlane) (float64, error) {
	total, after, room := 0.0, 0, auditRoom(p, c)
	for i := range d.Whole[c] {
		w := &d.Whole[c][i]
		if w.From < after || w.To <= w.From || w.To > p.Weeks {
			return 0, fmt.Errorf("tree %d is of weeks %d to %d, after week %d", i, w.From, w.To, after)
		}
		after = w.To
		gain, err := auditGain(p, d, c, own, room, w)
		if err != nil {
			return 0, fmt.Errorf("tree %d: %w", i, err)
		}
		total += max(0, own.gain-gain)
	}
	return total, nil
}

// auditGain is the most that the table gains where only one span's tree is heeded,
// worked out leaf by leaf from the limits on the way to it.
func auditGain(p *Problem, d *Duals, c int, own auditPlane, room map[int]bracket, w *Whole) (float64, error) {
	prices := []auditPlane{own}
	for _, point := range w.Points {
		for _, part := range point {
			if !auditPicked(p, c, part.Cand, w) || !(part.Strips >= 0 && part.Strips <= maxGround) {
				return 0, fmt.Errorf("a point has %g strips of candidate %d", part.Strips, part.Cand)
			}
		}
		at := auditHold(p, c, own.price, auditMargin(p, d, c, point, w), w)
		prices = append(prices, auditPlane{at, auditTable(p, d, c, at)})
	}
	worst, rest, err := auditTree(p, d, c, w, w.Nodes, prices, room)
	if err == nil && len(rest) > 0 {
		err = fmt.Errorf("%d nodes are left over", len(rest))
	}
	return worst, err
}

// auditPicked says whether a candidate is the crop's and ever picked in the weeks.
func auditPicked(p *Problem, c, cand int, w *Whole) bool {
	if cand < 0 || cand >= len(p.Cands) || p.Cands[cand].Crop != c {
		return false
	}
	return slices.ContainsFunc(p.Cands[cand].Yield, func(y Yield) bool {
		return len(y.Grams) > 0 && y.First < w.To && y.First+len(y.Grams) > w.From
	})
}

// auditPlane is a crop's prices and what its table gains by buying at them.
type auditPlane struct {
	price []float64
	gain  float64
}

// bracket is the strips that a candidate may have.
type bracket struct{ low, high int }

// auditTree tells the most of a tree's leaves and the nodes that follow it.
func auditTree(p *Problem, d *Duals, c int, w *Whole, nodes []Node, prices []auditPlane, room map[int]bracket) (float64, []Node, error) {
	if len(nodes) == 0 {
		return 0, nil, errors.New("the tree breaks off")
	}
	n, rest := nodes[0], nodes[1:]
	if len(n.Mix) > 0 {
		v, err := auditLeaf(p, d, c, n.Mix, prices, room)
		return v, rest, err
	}
	if !auditPicked(p, c, n.Cand, w) {
		return 0, nil, fmt.Errorf("a split by candidate %d, not picked there", n.Cand)
	}
	was := room[n.Cand]
	defer func() { room[n.Cand] = was }()
	room[n.Cand] = bracket{was.low, min(was.high, n.Most)}
	few, rest, err := auditTree(p, d, c, w, rest, prices, room)
	if err != nil {
		return 0, nil, err
	}
	room[n.Cand] = bracket{max(was.low, n.Most+1), was.high}
	many, rest, err := auditTree(p, d, c, w, rest, prices, room)
	return max(few, many), rest, err
}

// auditLeaf bounds the gain where each candidate's strips are in its bracket: at the
// mixed prices the table gains so much, and every strip is worth so much more or less
// than at the crop's own.
func auditLeaf(p *Problem, d *Duals, c int, mix []Weight, prices []auditPlane, room map[int]bracket) (float64, error) {
	mixed, sum := make([]float64, p.Weeks*p.Years), 0.0
	for _, m := range mix {
		if m.Plane < 0 || m.Plane >= len(prices) || !(m.Share >= 0) {
			return 0, fmt.Errorf("a leaf has a share %g of plane %d", m.Share, m.Plane)
		}
		sum += m.Share
	}
	if !(math.Abs(sum-1) < 1e-6) {
		return 0, fmt.Errorf("a leaf's shares add up to %g", sum)
	}
	for _, m := range mix {
		for i, x := range prices[m.Plane].price {
			mixed[i] += m.Share / sum * x
		}
	}
	more := make([]float64, len(mixed))
	for i := range mixed {
		more[i] = mixed[i] - prices[0].price[i]
	}
	total := 0.0
	for _, m := range mix { // a mixture of gains is no less than the gain at mixed prices
		total += m.Share / sum * prices[m.Plane].gain
	}
	for b := range p.Beds {
		for _, st := range p.Beds[b].Standing {
			if st.Crop == c {
				total += float64(st.Strips) * auditGrams(p, st.Yield, more)
			}
		}
	}
	for _, pl := range p.Fixed {
		if p.Cands[pl.Cand].Crop == c {
			total += float64(pl.Strips) * auditGrams(p, p.Cands[pl.Cand].Yield, more)
		}
	}
	for cand := range p.Cands { // in order, so that sums come out alike
		r, own := room[cand]
		if !own {
			continue
		}
		v := auditGrams(p, p.Cands[cand].Yield, more)
		best := math.Inf(-1)
		for n := r.low; n <= r.high; n++ {
			if n == 0 || n >= p.Cands[cand].MinStrips {
				best = max(best, v*float64(n))
			}
		}
		total += best
	}
	return total, nil
}

// auditRoom tells for each of a crop's candidates how many strips there could be of
// it besides the fixed ones.
func auditRoom(p *Problem, c int) map[int]bracket {
	room := map[int]bracket{}
	for b := range p.Beds {
		for j := range p.Beds[b].Len {
			busy, barred := auditGround(p, b, j)
			for i := range p.Cands {
				cand := &p.Cands[i]
				if cand.Crop != c {
					continue
				}
				r := room[i]
				if p.MayGrow(i, b) && !(p.Crops[c].Rotate && barred>>p.Crops[c].Family&1 == 1) && !slices.Contains(busy[cand.Start:cand.End], true) {
					r.high++
				}
				room[i] = r
			}
		}
	}
	for i, r := range room {
		if most := p.Cands[i].MaxStrips; most > 0 {
			for _, pl := range p.Fixed {
				if pl.Cand == i {
					most -= pl.Strips
				}
			}
			room[i] = bracket{r.low, min(r.high, most)}
		}
	}
	return room
}

// auditMargin is what a gram more of a crop would be worth by week and year in a span,
// were a point's strips planted besides what is there anyhow and nothing picked or
// eaten in other weeks.
func auditMargin(p *Problem, d *Duals, c int, point []Part, w *Whole) []float64 {
	out := make([]float64, p.Weeks*p.Years)
	extra := make([]float64, p.Weeks)
	eats := auditEats(p, &p.Crops[c])
	for s, q := range d.Years {
		clear(extra)
		for _, part := range point {
			y := p.Cands[part.Cand].Yield[s]
			for k, g := range y.Grams {
				extra[y.First+k] += float64(g) * part.Strips
			}
		}
		grams := auditHarvest(p, p.Fixed, c, s)
		for i := range grams {
			if grams[i] += math.Floor(extra[i]); i < w.From || i >= w.To {
				grams[i] = 0
			}
		}
		margin := stockMargin(p.Crops[c].Keep, grams, func(week int) []piece {
			if week < w.From || week >= w.To {
				return nil
			}
			return eats(week)
		})
		for i, v := range margin {
			out[i*p.Years+s] = q * v
		}
	}
	return out
}

// auditHold puts a span's prices into the crop's own. Where the span meets other weeks
// its prices must go together with any that these may have: between both stands the
// mean, in proportion, of the later week's own price and the most that the earlier
// week's allows it.
func auditHold(p *Problem, c int, own, inside []float64, w *Whole) []float64 {
	keep, out := p.Crops[c].Keep, slices.Clone(own)
	between := func(week, s int) float64 {
		return math.Sqrt(own[week*p.Years+s] * own[(week-1)*p.Years+s] / keep)
	}
	for s := range p.Years {
		for i := w.From; i < w.To; i++ {
			v := inside[i*p.Years+s]
			if keep > 0 && w.To < p.Weeks {
				v = max(v, between(w.To, s)*math.Pow(keep, float64(w.To-i)))
			}
			if keep > 0 && w.From > 0 {
				v = min(v, between(w.From, s)/math.Pow(keep, float64(i-w.From)))
			}
			out[i*p.Years+s] = v
		}
		for i := w.To - 2; i >= w.From; i-- {
			out[i*p.Years+s] = max(out[i*p.Years+s], keep*out[(i+1)*p.Years+s])
		}
	}
	return out
}
