package plan

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
)

// auditWhole is how much less a crop's table gains by buying what whole plantings can
// pick, as the duals' trees say (see Whole), span by span. own has the crop's own
// prices, lifted; by candidate room is what a strip's weeks earn at least, and plain
// what the strip earns at the prices.
func auditWhole(p *Problem, d *Duals, c int, own auditPlane, room, plain []float64) (float64, error) {
	if len(d.Whole[c]) == 0 {
		return 0, nil
	}
	a := auditCrop{p, d, c, own, room, plain, auditCount(p, c)}
	total, after := 0.0, 0
	for i := range d.Whole[c] {
		w := &d.Whole[c][i]
		if w.From != after || w.To <= w.From || w.To > p.Weeks {
			return 0, fmt.Errorf("tree %d is of weeks %d to %d, not from week %d on", i, w.From, w.To, after)
		}
		after = w.To
		gain, err := a.gain(w)
		if err != nil {
			return 0, fmt.Errorf("tree %d: %w", i, err)
		}
		total += own.gain - gain
	}
	if after != p.Weeks {
		return 0, fmt.Errorf("the trees end at week %d", after)
	}
	return max(0, total), nil
}

// auditCrop is what the trees of a crop are held against.
type auditCrop struct {
	p           *Problem
	d           *Duals
	crop        int
	own         auditPlane
	room, plain []float64
	strips      map[int]bracket // what each candidate may have, on the way to a leaf
}

// auditPlane is a crop's prices and what its table gains by buying at them.
type auditPlane struct {
	price []float64
	gain  float64
}

// bracket is the strips that a candidate may have.
type bracket struct{ low, high int }

// auditSpan is one span's tree with its prices, the crop's own first, and each
// candidate's share in the span: of what it pays and of its setup.
type auditSpan struct {
	*auditCrop
	w      *Whole
	prices []auditPlane
	share  map[int]float64
}

// gain is the most that the table gains where only one span's tree is heeded, worked out
// leaf by leaf from the limits on the way to it.
func (a *auditCrop) gain(w *Whole) (float64, error) {
	s := auditSpan{a, w, []auditPlane{a.own}, map[int]float64{}}
	for _, point := range w.Points {
		for _, part := range point {
			if !s.picked(part.Cand) || !(part.Strips >= 0 && part.Strips <= maxGround) {
				return 0, fmt.Errorf("a point has %g strips of candidate %d", part.Strips, part.Cand)
			}
		}
		at := auditHold(a.p, a.crop, a.own.price, auditMargin(a.p, a.d, a.crop, point, w), w)
		s.prices = append(s.prices, auditPlane{at, auditTable(a.p, a.d, a.crop, at)})
	}
	inside := make([]float64, len(a.own.price))
	copy(inside[w.From*a.p.Years:], a.own.price[w.From*a.p.Years:w.To*a.p.Years])
	for cand := range a.strips {
		yield := a.p.Cands[cand].Yield
		if all := auditGrams(a.p, yield, a.own.price); all > 0 {
			s.share[cand] = auditGrams(a.p, yield, inside) / all
		}
	}
	defer func(all map[int]bracket) { a.strips = all }(maps.Clone(a.strips))
	for _, l := range w.Limits {
		if err := s.heed(l); err != nil {
			return 0, err
		}
	}
	worst, rest, err := s.tree(w.Nodes)
	if err == nil && len(rest) > 0 {
		err = fmt.Errorf("%d nodes are left over", len(rest))
	}
	return worst, err
}

// heed takes a limit over: as many strips of a candidate, alone at the crop's table, must
// leave a strip more no worthier than what it pays.
func (s *auditSpan) heed(l Limit) error {
	if !s.picked(l.Cand) || l.Most < max(1, s.p.Cands[l.Cand].MinStrips) {
		return fmt.Errorf("a limit of %d strips of candidate %d", l.Most, l.Cand)
	}
	yield := s.p.Cands[l.Cand].Yield
	margin := auditMargin(s.p, s.d, s.crop, []Part{{l.Cand, float64(l.Most)}}, s.w)
	at := auditHold(s.p, s.crop, s.own.price, margin, s.w)
	for i := range at {
		if w := i / s.p.Years; w < s.w.From || w >= s.w.To {
			at[i] = 0
		}
	}
	pays := s.share[l.Cand] * (auditGrams(s.p, yield, s.own.price) + s.room[l.Cand] - s.plain[l.Cand])
	if s.share[l.Cand] == 0 {
		pays = 0
	}
	if worth := auditGrams(s.p, yield, at); worth > pays+1e-8*math.Abs(pays)+1e-12 {
		return fmt.Errorf("a limit of %d strips of candidate %d, whose next would be worth %g and pay %g", l.Most, l.Cand, worth, pays)
	}
	r := s.strips[l.Cand]
	s.strips[l.Cand] = bracket{r.low, min(r.high, l.Most)}
	return nil
}

// picked says whether a candidate is the crop's and ever picked in the span.
func (s *auditSpan) picked(cand int) bool {
	if cand < 0 || cand >= len(s.p.Cands) || s.p.Cands[cand].Crop != s.crop {
		return false
	}
	return slices.ContainsFunc(s.p.Cands[cand].Yield, func(y Yield) bool {
		return len(y.Grams) > 0 && y.First < s.w.To && y.First+len(y.Grams) > s.w.From
	})
}

// tree tells the most of a tree's leaves and the nodes that follow it.
func (s *auditSpan) tree(nodes []Node) (float64, []Node, error) {
	if len(nodes) == 0 {
		return 0, nil, errors.New("the tree breaks off")
	}
	n, rest := nodes[0], nodes[1:]
	if len(n.Mix) > 0 {
		v, err := s.leaf(n.Mix)
		return v, rest, err
	}
	if !s.picked(n.Cand) {
		return 0, nil, fmt.Errorf("a split by candidate %d, not picked there", n.Cand)
	}
	was := s.strips[n.Cand]
	defer func() { s.strips[n.Cand] = was }()
	s.strips[n.Cand] = bracket{was.low, min(was.high, n.Most)}
	few, rest, err := s.tree(rest)
	if err != nil {
		return 0, nil, err
	}
	s.strips[n.Cand] = bracket{max(was.low, n.Most+1), was.high}
	many, rest, err := s.tree(rest)
	return max(few, many), rest, err
}

// leaf bounds the gain where each candidate's strips are in its bracket: at the mixed
// prices the table gains so much, and every strip is worth so much more or less than at
// the crop's own, and pays what its weeks could earn above what it does.
func (s *auditSpan) leaf(mix []Weight) (float64, error) {
	more, total, err := s.mixed(mix)
	if err != nil {
		return 0, err
	}
	for b := range s.p.Beds {
		for _, st := range s.p.Beds[b].Standing {
			if st.Crop == s.crop {
				total += float64(st.Strips) * auditGrams(s.p, st.Yield, more)
			}
		}
	}
	for _, pl := range s.p.Fixed {
		if s.p.Cands[pl.Cand].Crop == s.crop {
			total += float64(pl.Strips) * auditGrams(s.p, s.p.Cands[pl.Cand].Yield, more)
		}
	}
	for cand := range s.p.Cands { // in order, so that sums come out alike
		if r, own := s.strips[cand]; own {
			total += s.most(cand, r, more)
		}
	}
	return total, nil
}

// most is the most that a candidate's strips in a bracket add, at prices so much above
// the crop's own.
func (s *auditSpan) most(cand int, r bracket, more []float64) float64 {
	v, best := auditGrams(s.p, s.p.Cands[cand].Yield, more), math.Inf(-1)
	if share := s.share[cand]; share > 0 {
		v -= share * (s.room[cand] - s.plain[cand])
	}
	for n := r.low; n <= r.high; n++ {
		switch {
		case n == 0:
			best = max(best, 0)
		case n >= s.p.Cands[cand].MinStrips:
			best = max(best, v*float64(n)-s.share[cand]*s.p.SetupCost)
		}
	}
	return best
}

// mixed is by how much a leaf's prices are above the crop's own, and what the table
// gains by buying at them: a mixture of gains is no less than the gain at mixed prices.
func (s *auditSpan) mixed(mix []Weight) (more []float64, gain float64, err error) {
	more, sum := make([]float64, s.p.Weeks*s.p.Years), 0.0
	for _, m := range mix {
		if m.Plane < 0 || m.Plane >= len(s.prices) || !(m.Share >= 0) {
			return nil, 0, fmt.Errorf("a leaf has a share %g of plane %d", m.Share, m.Plane)
		}
		sum += m.Share
	}
	if !(math.Abs(sum-1) < 1e-6) {
		return nil, 0, fmt.Errorf("a leaf's shares add up to %g", sum)
	}
	for _, m := range mix {
		for i, x := range s.prices[m.Plane].price {
			more[i] += m.Share / sum * (x - s.own.price[i])
		}
		gain += m.Share / sum * s.prices[m.Plane].gain
	}
	return more, gain, nil
}

// auditCount tells for each of a crop's candidates how many strips there could be of
// it besides the fixed ones.
func auditCount(p *Problem, c int) map[int]bracket {
	count := map[int]bracket{}
	for b := range p.Beds {
		for j := range p.Beds[b].Len {
			busy, barred := auditGround(p, b, j)
			for i := range p.Cands {
				if p.Cands[i].Crop != c {
					continue
				}
				r := count[i]
				if auditMay(p, i, b, busy, barred) {
					r.high++
				}
				count[i] = r
			}
		}
	}
	for i, r := range count {
		if most := p.Cands[i].MaxStrips; most > 0 {
			for _, pl := range p.Fixed {
				if pl.Cand == i {
					most -= pl.Strips
				}
			}
			count[i] = bracket{r.low, min(r.high, most)}
		}
	}
	return count
}
