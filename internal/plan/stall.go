package plan

import (
	"math"
	"math/bits"
	"slices"
)

// stall is one year's table for one crop at given prices: what each slot pays when
// a planting has it to itself. Its greedy is the larder's.
type stall struct {
	ready bool
	l     *larder
	pays  []float64 // by the larder's rank
	order []int32   // ranks, dearest first
	rank  []float64
	full  []uint64 // by order
	reach []uint64
	room  []float64
	left  []float64
	week  []int32
	pay   []float64
	price []bool    // by order: the slot pays the full price of produce
	sold  []float64 // by week: grams sold at full price
	words int
}

// stalls are one crop's by year. Each is opened when it is first asked for.
type stalls []*stall

func newStalls(p *Problem) stalls {
	n := p.Weeks * maxTiers
	words := (n + 63) / 64
	var all stalls
	for range p.Years {
		all = append(all, &stall{rank: make([]float64, n), full: make([]uint64, words), left: make([]float64, n), sold: make([]float64, p.Weeks)})
	}
	return all
}

// shut has all opened anew: for another crop, or at other prices.
func (all stalls) shut() {
	for _, st := range all {
		st.ready = false
	}
}

// in is the stall of a year; price[w*years+year] are the crop's produce prices.
func (all stalls) in(year int, p *Problem, l *larder, price, weights []float64) *stall {
	st := all[year]
	if !st.ready {
		st.open(p, l, price[year:], weights[year])
	}
	return st
}

// open sets the stall up: price[w*years] are the produce prices of the year.
func (st *stall) open(p *Problem, l *larder, price []float64, weight float64) {
	st.ready, st.l, st.words = true, l, l.words
	st.order, st.pays = st.order[:0], st.pays[:0]
	for r := range l.slots {
		sl := &l.slots[r]
		v := min(weight*sl.worth, price[int(sl.week)*p.Years])
		st.pays = append(st.pays, v)
		st.rank[r] = math.Inf(-1)
		if v > 0 {
			st.rank[r] = math.Log(v) + float64(sl.week)*l.perWeek
			st.order = append(st.order, int32(r))
		}
	}
	slices.SortStableFunc(st.order, func(a, b int32) int {
		switch {
		case st.rank[a] > st.rank[b]:
			return -1
		case st.rank[a] < st.rank[b]:
			return 1
		}
		return 0
	})
	st.room, st.week, st.pay, st.price = st.room[:0], st.week[:0], st.pay[:0], st.price[:0]
	if len(st.reach) < p.Weeks*st.words {
		st.reach = make([]uint64, p.Weeks*st.words)
	}
	clear(st.reach)
	last := make([]uint64, st.words) // slots of the weeks from w on
	byWeek := make([][]int32, p.Weeks)
	for k, r := range st.order {
		sl := &l.slots[r]
		st.room, st.week, st.pay = append(st.room, sl.room), append(st.week, sl.week), append(st.pay, st.pays[r])
		st.price = append(st.price, weight*sl.worth >= price[int(sl.week)*p.Years])
		byWeek[sl.week] = append(byWeek[sl.week], int32(k))
	}
	for w := p.Weeks - 1; w >= 0; w-- {
		for _, k := range byWeek[w] {
			last[k>>6] |= 1 << (k & 63)
		}
		copy(st.reach[w*st.words:], last)
	}
}

// value is what times the pickings of a yield fetch, latest picking first; sold is
// set for its weeks.
func (st *stall) value(y Yield, times float64) float64 {
	clear(st.full[:st.words])
	copy(st.left, st.room)
	total := 0.0
	for k := len(y.Grams) - 1; k >= 0; k-- {
		w, grams := y.First+k, float64(y.Grams[k])*times
		st.sold[w] = 0
		reach := st.reach[w*st.words : (w+1)*st.words]
	sell:
		for i, all := range reach {
			for free := all &^ st.full[i]; free != 0; free &= free - 1 {
				bit := bits.TrailingZeros64(free)
				r := i<<6 + bit
				d := int(st.week[r]) - w
				lasts := grams * st.l.keep[d]
				if lasts < st.left[r] {
					st.left[r] -= lasts
					total += lasts * st.pay[r]
					if st.price[r] {
						st.sold[w] += grams
					}
					break sell
				}
				total += st.left[r] * st.pay[r]
				st.full[i] |= 1 << bit
				used := st.left[r] * st.l.lose[d]
				if st.price[r] {
					st.sold[w] += min(used, grams)
				}
				if grams -= used; grams <= 0 {
					break sell
				}
			}
		}
	}
	return total
}
