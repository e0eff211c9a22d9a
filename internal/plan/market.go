package plan

import (
	"cmp"
	"slices"
)

// market holds first-order scores: what one strip more of each candidate would
// add to the plan, by the table's prices at the harvest before the move, less seed
// and labour.
type market struct {
	*account
	weight []float64   // of each year
	wage   []float64   // of a tenth of a minute, by week
	price  [][]float64 // per crop: [week*Years+year], weighted
	stamp  []int       // per crop: which pricing that is
	score  []float64   // per candidate
	scored []int       // per candidate: the stamp it was scored at
	clock  int
	keen   bool // within a move, price anew what it has touched

	promised []float64 // scratch of settleAbove, by year
	heaviest []int     // the years, those of most weight first

	savedPrices []oldPrices // replaced within the present move
	savedScores []oldScore
}

type oldPrices struct {
	crop, stamp int
	price       []float64
}

type oldScore struct {
	cand, scored int
	score        float64
}

func newMarket(a *account) *market {
	m := &market{account: a, score: make([]float64, len(a.p.Cands)), scored: make([]int, len(a.p.Cands)),
		wage: make([]float64, a.p.Weeks), stamp: make([]int, len(a.p.Crops)), price: make([][]float64, len(a.p.Crops)),
		promised: make([]float64, a.p.Years)}
	for s := range a.p.Years {
		m.heaviest = append(m.heaviest, s)
	}
	for c := range m.price {
		m.price[c] = make([]float64, a.p.Weeks*a.p.Years)
	}
	m.reprice()
	return m
}

// reprice takes new weights of years and wages, between moves.
func (m *market) reprice() {
	m.weight = m.shared.risk.weights(m.years)
	slices.SortStableFunc(m.heaviest, func(x, y int) int { return cmp.Compare(m.weight[y], m.weight[x]) })
	for w, tenths := range m.work {
		m.wage[w] = m.p.LabourCost / 10
		if float64(tenths) >= m.p.LabourCap*10 {
			m.wage[w] += m.p.OvertimeCost / 10
		}
	}
	for c := range m.price {
		m.priceCrop(c)
	}
}

// scoreOf is the score of one candidate before the move, or in the midst of a keen one.
func (m *market) scoreOf(cand int) float64 {
	c := &m.p.Cands[cand]
	if m.keen && m.stale[c.Crop] {
		m.savePrices(c.Crop)
		m.book()
		m.priceCrop(c.Crop)
		m.stale[c.Crop] = false
	}
	if m.scored[cand] == m.stamp[c.Crop] {
		return m.score[cand]
	}
	s := m.shared.yields[cand].dot(m.price[c.Crop], m.p.Years) - c.Cost
	for k, tenths := range c.Labour {
		s -= float64(tenths) * m.wage[c.LabourAt+k]
	}
	if m.keen {
		m.savedScores = append(m.savedScores, oldScore{cand, m.scored[cand], m.score[cand]})
	}
	m.score[cand], m.scored[cand] = s, m.stamp[c.Crop]
	return s
}

// priceCrop prices a crop at the harvest as booked.
func (m *market) priceCrop(crop int) {
	weeks, years := m.shared.crops[crop], m.p.Years
	for y, weight := range m.weight {
		grams, picked := m.harvest.year(crop, y)
		m.shared.larders[crop].prices(m.plate, grams, picked, weeks.from, weeks.to, weight, m.price[crop][y:], years)
	}
	m.clock++
	m.stamp[crop] = m.clock
}

// savePrices puts a crop's prices from before the move aside.
func (m *market) savePrices(crop int) {
	for i := range m.savedPrices {
		if m.savedPrices[i].crop == crop {
			return
		}
	}
	if len(m.savedPrices) < cap(m.savedPrices) {
		m.savedPrices = m.savedPrices[:len(m.savedPrices)+1]
	} else {
		m.savedPrices = append(m.savedPrices, oldPrices{})
	}
	o := &m.savedPrices[len(m.savedPrices)-1]
	o.crop, o.stamp = crop, m.stamp[crop]
	o.price = append(o.price[:0], m.price[crop]...)
}

// pricesBefore are a crop's prices from before the move.
func (m *market) pricesBefore(crop int) []float64 {
	for i := range m.savedPrices {
		if m.savedPrices[i].crop == crop {
			return m.savedPrices[i].price
		}
	}
	return m.price[crop]
}

// hope is the most that the present move can have gained, by the prices from before
// it: what is eaten is worth less the more there is, so the true gain is no more. Of
// a keen move it tells nothing. It costs less than the same by years, see promise.
func (m *market) hope() float64 {
	gain := 0.0
	for _, ch := range m.log {
		g := m.scoreOf(ch.planting.Cand)*float64(ch.planting.Strips) - m.p.SetupCost - m.asks*float64(m.change(ch.planting))
		if ch.put {
			gain += g
		} else {
			gain -= g
		}
	}
	return gain
}

// settleAbove settles the move if that makes the plan worth least; as soon as it is clear
// that it does not, it gives up and tells so. What a year brings is no more than the prices
// from before the move promise, and the measure of the years no more than what they are
// worth at any weights it could take; the heaviest years are valued first.
func (m *market) settleAbove(least float64) bool {
	m.book()
	most := -m.costs()
	m.promise()
	for s, weight := range m.weight {
		most += weight*m.years[s] + m.promised[s]
	}
	for _, c := range m.dirty {
		m.remember(c)
	}
	for _, s := range m.heaviest {
		if most < least {
			return false
		}
		most += m.weight[s]*m.settleYear(s) - m.promised[s]
	}
	m.total = m.shared.risk.value(m.years, m.order) - m.costs()
	return m.total >= least
}

// promise tells by year what the move brings at the prices from before it.
func (m *market) promise() {
	clear(m.promised)
	for _, e := range m.booked {
		y := &m.shared.yields[e.cand]
		prices := m.pricesBefore(m.p.Cands[e.cand].Crop)[y.from*m.p.Years:]
		strips := float64(e.strips)
		for i := 0; i < len(y.grams); i += m.p.Years {
			grams, price := y.grams[i:i+m.p.Years], prices[i:i+m.p.Years]
			for s := range m.promised {
				m.promised[s] += strips * grams[s] * price[s]
			}
		}
	}
}

// keep makes a settled move final and prices anew what it touched.
func (m *market) keep() {
	for _, c := range m.dirty {
		m.priceCrop(c)
	}
	m.savedPrices, m.savedScores = m.savedPrices[:0], m.savedScores[:0]
	m.begin()
}

// undo takes a move back, with the prices and scores that it changed.
func (m *market) undo() {
	for i := range m.savedPrices {
		o := &m.savedPrices[i]
		m.price[o.crop], o.price = o.price, m.price[o.crop]
		m.stamp[o.crop] = o.stamp
	}
	for i := len(m.savedScores) - 1; i >= 0; i-- {
		o := m.savedScores[i]
		// Scores of crops that the move left alone stay good.
		if m.scored[o.cand] != m.stamp[m.p.Cands[o.cand].Crop] {
			m.score[o.cand], m.scored[o.cand] = o.score, o.scored
		}
	}
	m.savedPrices, m.savedScores = m.savedPrices[:0], m.savedScores[:0]
	m.account.undo()
}
