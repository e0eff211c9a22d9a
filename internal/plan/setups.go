package plan

import (
	"math"
	"slices"
)

// setups works out what share of its planting's setup each strip has to carry.
//
// A planting of n strips is at most worth what its own pickings fetch with the
// table to themselves, V(n), each gram eaten earning its slot's worth less the
// slot's rent (what table counts for it). V is concave: a long planting fills the
// slots of its few weeks and then earns little more. So no planting earns more per
// strip than the most, over n, of (V(n) - setup)/n, which rises and then falls.
// What that is less than the price of the pickings is the share.
type setups struct {
	*bounder
	lengths []int       // of the longest beds of each soil, ascending
	shares  [][]float64 // [length][cand]
	best    []int       // per candidate: the number of strips best last time
	stalls  stalls      // of the crop at hand
	useful  []block     // per candidate, per strip of the best planting: grams that fetch their price
}

func newSetups(b *bounder) *setups {
	s := &setups{bounder: b, best: make([]int, len(b.p.Cands)), stalls: newStalls(b.p)}
	for u := range b.soils {
		s.lengths = append(s.lengths, b.soils[u].longest)
	}
	slices.Sort(s.lengths)
	s.lengths = slices.Compact(s.lengths)
	for u := range b.soils {
		b.soils[u].length, _ = slices.BinarySearch(s.lengths, b.soils[u].longest)
	}
	for range s.lengths {
		s.shares = append(s.shares, make([]float64, len(b.p.Cands)))
	}
	for i := range b.p.Cands {
		y := b.shared.yields[i]
		s.useful = append(s.useful, block{y.from, slices.Clone(y.grams)})
		s.best[i] = max(1, b.p.Cands[i].MinStrips)
	}
	return s
}

// share works out all shares at mended prices, when scores are known.
func (s *setups) share(d *Duals) {
	most := s.lengths[len(s.lengths)-1]
	for c := range s.p.Crops {
		s.stalls.shut()
		for _, i := range s.shared.byCrop[c] {
			least := max(1, s.p.Cands[i].MinStrips)
			if least > most || s.score[i]-s.p.SetupCost/float64(most) <= 0 {
				for l := range s.lengths { // it cannot be, or earns nothing even so
					s.shares[l][i] = math.Inf(1)
				}
				continue
			}
			s.shareOf(d, c, i, least)
		}
	}
}

// shareOf works out one candidate's shares by bed length.
func (s *setups) shareOf(d *Duals, c, i, least int) {
	plain := s.shared.yields[i].dot(d.Produce[c], s.p.Years)
	rate := func(n int) float64 { return (s.alone(d, c, i, n) - s.p.SetupCost) / float64(n) }
	most := s.lengths[len(s.lengths)-1]
	n := max(least, s.best[i])
	top := rate(n)
	up := false
	for n < most {
		v := rate(n + 1)
		if v <= top {
			break
		}
		n, top, up = n+1, v, true
	}
	for !up && n > least {
		v := rate(n - 1)
		if v < top {
			break
		}
		n, top = n-1, v
	}
	s.best[i] = n
	for l, length := range s.lengths {
		switch {
		case length < least:
			s.shares[l][i] = math.Inf(1)
		case length < n: // it rises up to n, so the longest there can be is best
			s.shares[l][i] = plain - rate(length)
		default:
			s.shares[l][i] = plain - top
		}
	}
}

// alone is what n strips of candidate i fetch with the table to themselves.
func (s *setups) alone(d *Duals, c, i, n int) float64 {
	total := 0.0
	for y, yield := range s.p.Cands[i].Yield {
		if len(yield.Grams) == 0 {
			continue
		}
		total += s.stall(d, c, y).value(yield, float64(n))
	}
	return total
}

func (s *setups) stall(d *Duals, c, year int) *stall {
	return s.stalls.in(year, s.p, s.shared.larders[c], d.Produce[c], d.Years)
}

// linear makes useful and toll what the last shares say of each candidate's best
// planting: at the prices they were worked out at, useful.price - toll is what a
// strip earns with its setup. blend is the weight of the new against the old.
func (s *setups) linear(d *Duals, toll []float64, blend float64) {
	for c := range s.p.Crops {
		s.stalls.shut()
		for _, i := range s.shared.byCrop[c] {
			n := min(s.best[i], s.lengths[len(s.lengths)-1])
			fetched := s.use(d, c, i, n, blend)
			toll[i] += blend * ((s.p.SetupCost-fetched)/float64(n) - toll[i])
		}
	}
}

// use blends what a planting of n strips sells at full price into useful, and
// returns what the rest fetches.
func (s *setups) use(d *Duals, c, i, n int, blend float64) float64 {
	rest, u := 0.0, &s.useful[i]
	years := s.p.Years
	for y, yield := range s.p.Cands[i].Yield {
		if len(yield.Grams) == 0 {
			continue
		}
		st := s.stall(d, c, y)
		total := st.value(yield, float64(n))
		for k := range yield.Grams {
			w := yield.First + k
			at := (w-u.from)*years + y
			used := st.sold[w] / float64(n)
			u.grams[at] += blend * (used - u.grams[at])
			total -= st.sold[w] * d.Produce[c][w*years+y]
		}
		rest += total
	}
	return rest
}
