package plan

import (
	"math"
	"math/bits"
	"sort"
)

// larder is the best use that the table makes of one crop's pickings: eat, keep
// or waste, with the weekly loss of keeping. One larder serves every year.
//
// Why a greedy is exact. A gram picked in week w can be eaten in any week t >= w
// and is then Keep^(t-w) grams. Counted in week-0 grams (divided by Keep^w) what
// is picked and what is eaten balance one to one, an eating slot (week, tier) is
// worth value x Keep^t per unit, and pickings may reach the slots of all weeks
// from theirs on: nested sets. The sets of slots that can be filled are then a
// polymatroid. Taking the pickings from the latest to the earliest, each filling
// the dearest slots still free from its own week on, is optimal: what a later
// picking could reach, an earlier one can reach too, so nothing already filled
// would ever be given up.
//
// Slots are ranked once (the rank does not depend on the year), so that "dearest
// free slot from week w on" is the first set bit of reach[w] without full.
type larder struct {
	slots []slot    // by rank
	room  []float64 // grams that each slot takes
	keep  []float64 // Keep^d
	lose  []float64 // 1/Keep^d
	words int
	reach []uint64 // [week*words+i]: slots from that week on
	first []int32  // first word of reach[week] that is not empty

	perWeek float64 // logarithm of Keep, or very low
}

// slot is one week's room in one tier.
type slot struct {
	worth, room float64 // per gram eaten; grams
	rank        float64 // logarithm of the worth in grams of week 0
	week, tier  int32
}

// plate is a larder's scratch: what has been filled so far. One plate serves all
// larders of a problem, one after the other.
type plate struct {
	full  []uint64  // filled slots
	left  []float64 // room left in the others
	until []int32   // by week picked, the last week in which any of it is eaten
}

func newPlate(p *Problem) *plate {
	words := (p.Weeks*maxTiers + 63) / 64
	return &plate{make([]uint64, words), make([]float64, words*64), make([]int32, p.Weeks)}
}

func newLarder(p *Problem, c *Crop) *larder { return larderIn(p, c, span{0, p.Weeks}) }

// larderIn is a larder of the slots of some weeks only.
func larderIn(p *Problem, c *Crop, weeks span) *larder {
	// Logarithms keep Keep^week from vanishing; Keep = 0 ranks purely by week.
	l := &larder{perWeek: math.Max(math.Log(c.Keep), -1e6)}
	slots := l.slots
	for t := weeks.from; t < weeks.to; t++ {
		for k := range c.TierKg {
			worth := c.TierVal[k] / 1000
			if k == 0 {
				worth *= p.Bonus[t]
			}
			if worth > 0 && c.TierKg[k] > 0 {
				slots = append(slots, slot{worth: worth, room: c.TierKg[k] * 1000, week: int32(t), tier: int32(k)})
			}
		}
	}
	for i := range slots {
		slots[i].rank = math.Log(slots[i].worth) + float64(slots[i].week)*l.perWeek
	}
	sort.SliceStable(slots, func(i, j int) bool { return slots[i].rank > slots[j].rank })

	n := len(slots)
	l.slots, l.words = slots, (n+63)/64
	l.keep, l.lose = make([]float64, p.Weeks), make([]float64, p.Weeks)
	for d := range l.keep {
		l.keep[d] = math.Pow(c.Keep, float64(d))
		l.lose[d] = 1 / l.keep[d]
	}
	l.reach = make([]uint64, p.Weeks*l.words)
	l.first = make([]int32, p.Weeks)
	for r, s := range slots {
		l.room = append(l.room, s.room)
		for w := 0; w <= int(s.week); w++ {
			l.reach[w*l.words+r/64] |= 1 << (r % 64)
		}
	}
	for w := range l.first {
		for int(l.first[w]) < l.words && l.reach[w*l.words+int(l.first[w])] == 0 {
			l.first[w]++
		}
	}
	return l
}

// value is the worth of one year's pickings (grams by week). picked has the bit
// of every week with anything in it, 64 weeks to a word.
func (l *larder) value(pt *plate, grams []int32, picked []uint64) float64 {
	clear(pt.full[:l.words])
	copy(pt.left, l.room)
	total := 0.0
	for i := len(picked) - 1; i >= 0; i-- {
		for b := picked[i]; b != 0; {
			top := 63 - bits.LeadingZeros64(b)
			b &^= 1 << top
			w := i*64 + top
			worth, until := l.eat(pt, w, float64(grams[w]))
			total += worth
			pt.until[w] = until
		}
	}
	return total
}

// eat puts grams picked in week w to their best use among the free slots. until is
// the last week in which any of them are eaten.
func (l *larder) eat(pt *plate, w int, grams float64) (total float64, until int32) {
	until = int32(w)
	full := pt.full[:l.words]
	reach := l.reach[w*l.words:][:len(full)]
	for i := int(l.first[w]); i < len(full); i++ {
		for free := reach[i] &^ full[i]; free != 0; free &= free - 1 {
			bit := bits.TrailingZeros64(free)
			r := i<<6 + bit
			sl := &l.slots[r]
			d := int(sl.week) - w
			left := &pt.left[r]
			lasts := grams * l.keep[d]
			until = max(until, sl.week)
			if lasts < *left {
				*left -= lasts
				return total + lasts*sl.worth, until
			}
			total += *left * sl.worth
			full[i] |= 1 << bit
			grams -= *left * l.lose[d]
			if grams <= 0 {
				return total, until
			}
		}
	}
	return total, until
}
