package plan

import "math/bits"

// prices writes the worth of one gram more picked in each week of a year, times
// weight, given what is picked already: out[w*stride] for weeks from <= w < to.
// Nothing may be picked before week from. It leaves plate as value does.
//
// A gram more goes to the dearest slot still free from its week on, or, where a
// stock is carried into the week, lets an earlier gram go there instead: then it
// is worth what that earlier gram is.
func (l *larder) prices(pt *plate, grams []int32, picked []uint64, from, to int, weight float64, out []float64, stride int) {
	l.value(pt, grams, picked)
	rho, kept := l.keep[min(1, len(l.keep)-1)], int32(-1)
	before := 0.0
	for w := from; w < to; {
		worth, last := l.dearest(pt.full, w)
		for end := min(last+1, to); w < end; w++ {
			price := worth * l.keep[last-w]
			if int32(w) <= kept && rho > 0 {
				price = max(price, before/rho)
			}
			if picked[w>>6]>>(w&63)&1 == 1 {
				kept = max(kept, pt.until[w])
			}
			out[w*stride], before = price*weight, price
		}
	}
}

// dearest is the dearest slot still free from week w on, its worth and its week. It is
// the dearest from all weeks up to its own on. If none is free the worth is 0, to the end.
func (l *larder) dearest(full []uint64, w int) (worth float64, week int) {
	reach := l.reach[w*l.words : (w+1)*l.words]
	for i := int(l.first[w]); i < len(reach); i++ {
		if free := reach[i] &^ full[i]; free != 0 {
			sl := &l.slots[i<<6+bits.TrailingZeros64(free)]
			return sl.worth, int(sl.week)
		}
	}
	return 0, len(l.keep) - 1
}
