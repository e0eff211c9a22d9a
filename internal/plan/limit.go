package plan

import "math"

// limit is how many strips of the candidate at place j can be worth their rent at all,
// and how often it had to look.
func (k *counter) limit(years []float64, j int) (most, looks int) {
	enough := func(n int) bool {
		looks++
		return n >= k.most[j] || k.enough(years, j, n, -limitSlack)
	}
	few, many := k.least[j]-1, k.least[j]
	for step := 1; !enough(many); step *= 2 {
		few, many = many, many+step
	}
	for many-few > 1 {
		if middle := (few + many) / 2; enough(middle) {
			many = middle
		} else {
			few = middle
		}
	}
	return min(many, k.most[j]), looks
}

// limitSlack is by how much a limit is sure when it is found, as a share of the rent, so
// that it holds when it is worked out anew; rentHair how much of that is not asked then.
const limitSlack, rentHair = 1e-6, 1e-9

// enough says whether a strip more than n of a candidate, the only one grown, would be
// worth no more than its rent, give or take a share of that.
func (k *counter) enough(years []float64, j, n int, slack float64) bool {
	k.margin(years, []Part{{k.cands[j], float64(n)}})
	y := k.b.shared.yields[k.cands[j]].within(k.weeks, k.b.p.Years)
	return y.dot(k.prices, k.b.p.Years) <= k.rent[j]+slack*math.Abs(k.rent[j])
}

// heed takes over those limits that hold.
func (k *counter) heed(limits []Limit, years []float64) {
	for _, l := range limits {
		if j := k.place[l.Cand]; l.Most >= k.least[j] && k.enough(years, j, l.Most, rentHair) {
			k.most[j] = min(k.most[j], l.Most)
		}
	}
}
