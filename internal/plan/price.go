package plan

// prices writes the worth of one gram more picked in each week of a year, times
// weight, given what is picked already: out[w*stride] for weeks from <= w < to.
// Nothing may be picked before week from. It leaves plate as value does.
//
// A gram more goes to the dearest slot still free from its week on, or, where a
// stock is carried into the week, lets an earlier gram go there instead: then it
// is worth what that earlier gram is.
func (l *larder) prices(pt *plate, grams []int32, picked []uint64, from, to int, weight float64, out []float64, stride int) {
	l.value(pt, grams, picked)
	dearest := len(l.slots)
	for w := len(grams) - 1; w >= from; w-- {
		ate := 0.0
		for _, r := range l.ranks[l.rankAt[w]:l.rankAt[w+1]] {
			bit := uint64(1) << (r & 63)
			if pt.full[r>>6]&bit != 0 {
				ate += l.room[r]
				continue
			}
			ate += l.room[r] - pt.left[r]
			dearest = min(dearest, int(r))
		}
		pt.eaten[w] = ate
		if w < to {
			v := 0.0
			if dearest < len(l.slots) {
				v = l.slots[dearest].worth * l.keep[int(l.slots[dearest].week)-w]
			}
			pt.price[w] = v
		}
	}
	const crumb = 1e-6 // grams; below is rounding, not stock
	stock, rho := 0.0, l.keep[min(1, len(l.keep)-1)]
	for w := from; w < to; w++ {
		if stock *= rho; stock > crumb {
			pt.price[w] = max(pt.price[w], pt.price[w-1]/rho)
		}
		stock += float64(grams[w]) - pt.eaten[w]
		out[w*stride] = pt.price[w] * weight
	}
}
