package plan

import (
	"fmt"
	"math"
	"slices"
)

// auditGain is the most that a crop's table gains by buying what whole plantings can
// pick, as the duals' tree says (see Whole), worked out leaf by leaf from the limits on
// the way to it. price is the crop's own, lifted.
func auditGain(p *Problem, d *Duals, c int, price []float64) (float64, error) {
	w := &d.Whole[c]
	prices := []auditPlane{{price, auditTable(p, d, c, price)}}
	for _, point := range w.Points {
		for _, part := range point {
			if part.Cand < 0 || part.Cand >= len(p.Cands) || p.Cands[part.Cand].Crop != c || !(part.Strips >= 0 && part.Strips <= maxGround) {
				return 0, fmt.Errorf("crop %d: a point has %g strips of candidate %d", c, part.Strips, part.Cand)
			}
		}
		at := auditMargin(p, d, c, point)
		prices = append(prices, auditPlane{at, auditTable(p, d, c, at)})
	}
	room := auditRoom(p, c)
	worst, rest, err := auditTree(p, d, c, w.Nodes, prices, room)
	if err == nil && len(rest) > 0 {
		err = fmt.Errorf("crop %d: %d nodes are left over", c, len(rest))
	}
	return worst, err
}

// auditPlane is a crop's prices and what its table gains by buying at them.
type auditPlane struct {
	price []float64
	gain  float64
}

// bracket is the strips that a candidate may have.
type bracket struct{ low, high int }

// auditTree tells the most of a tree's leaves and the nodes that follow it.
func auditTree(p *Problem, d *Duals, c int, nodes []Node, prices []auditPlane, room map[int]bracket) (float64, []Node, error) {
	if len(nodes) == 0 {
		return 0, nil, fmt.Errorf("crop %d: the tree breaks off", c)
	}
	n, rest := nodes[0], nodes[1:]
	if len(n.Mix) > 0 {
		v, err := auditLeaf(p, d, c, n.Mix, prices, room)
		return v, rest, err
	}
	was, known := room[n.Cand]
	if !known {
		return 0, nil, fmt.Errorf("crop %d: a split by candidate %d, not its own", c, n.Cand)
	}
	defer func() { room[n.Cand] = was }()
	room[n.Cand] = bracket{was.low, min(was.high, n.Most)}
	few, rest, err := auditTree(p, d, c, rest, prices, room)
	if err != nil {
		return 0, nil, err
	}
	room[n.Cand] = bracket{max(was.low, n.Most+1), was.high}
	many, rest, err := auditTree(p, d, c, rest, prices, room)
	return max(few, many), rest, err
}

// auditLeaf bounds the gain where each candidate's strips are in its bracket: at the
// mixed prices the table gains so much, and every strip is worth so much more or less
// than at the crop's own.
func auditLeaf(p *Problem, d *Duals, c int, mix []Weight, prices []auditPlane, room map[int]bracket) (float64, error) {
	mixed, sum := make([]float64, p.Weeks*p.Years), 0.0
	for _, m := range mix {
		if m.Plane < 0 || m.Plane >= len(prices) || !(m.Share >= 0) {
			return 0, fmt.Errorf("crop %d: a leaf has a share %g of plane %d", c, m.Share, m.Plane)
		}
		sum += m.Share
	}
	if !(math.Abs(sum-1) < 1e-6) {
		return 0, fmt.Errorf("crop %d: a leaf's shares add up to %g", c, sum)
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

// auditMargin is what a gram more of a crop would be worth by week and year, were a
// point's strips planted besides what is there anyhow, lifted as prices are.
func auditMargin(p *Problem, d *Duals, c int, point []Part) []float64 {
	out := make([]float64, p.Weeks*p.Years)
	extra := make([]float64, p.Weeks)
	for s, q := range d.Years {
		clear(extra)
		for _, part := range point {
			y := p.Cands[part.Cand].Yield[s]
			for k, g := range y.Grams {
				extra[y.First+k] += float64(g) * part.Strips
			}
		}
		grams := auditHarvest(p, p.Fixed, c, s)
		for w := range grams {
			grams[w] += math.Floor(extra[w])
		}
		for w, v := range stockMargin(p.Crops[c].Keep, grams, auditEats(p, &p.Crops[c])) {
			out[w*p.Years+s] = q * v
		}
	}
	return auditLift(p, c, out)
}
