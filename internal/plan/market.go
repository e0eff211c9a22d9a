package plan

// market holds first-order scores: what one strip more of each candidate would
// add to the plan, by the table's prices at the present harvest, less seed and
// labour. Prices are worked out only when asked for.
type market struct {
	*account
	weight []float64   // of each year
	wage   []float64   // of a tenth of a minute, by week
	price  [][]float64 // per crop: [week*Years+year], weighted
	stamp  []int       // per crop: which pricing that is
	score  []float64   // per candidate
	scored []int       // per candidate: the stamp it was scored at
	clock  int
	lazy   bool // within a move, go by the prices from before it

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
		wage: make([]float64, a.p.Weeks), stamp: make([]int, len(a.p.Crops)), price: make([][]float64, len(a.p.Crops))}
	for c := range m.price {
		m.price[c] = make([]float64, a.p.Weeks*a.p.Years)
	}
	m.reprice()
	return m
}

// reprice takes new weights of years and wages, between moves.
func (m *market) reprice() {
	m.weight = m.shared.risk.weights(m.years)
	for w, tenths := range m.work {
		m.wage[w] = m.p.LabourCost / 10
		if float64(tenths) >= m.p.LabourCap*10 {
			m.wage[w] += m.p.OvertimeCost / 10
		}
	}
	clear(m.fresh)
	m.savedPrices, m.savedScores = m.savedPrices[:0], m.savedScores[:0]
}

// scoreOf is the score of one candidate now.
func (m *market) scoreOf(cand int) float64 {
	c := &m.p.Cands[cand]
	if !m.fresh[c.Crop] && !(m.lazy && m.was[c.Crop]) {
		m.priceCrop(c.Crop)
	}
	if m.scored[cand] == m.stamp[c.Crop] {
		return m.score[cand]
	}
	s := m.shared.yields[cand].dot(m.price[c.Crop], m.p.Years) - c.Cost
	for k, tenths := range c.Labour {
		s -= float64(tenths) * m.wage[c.LabourAt+k]
	}
	m.savedScores = append(m.savedScores, oldScore{cand, m.scored[cand], m.score[cand]})
	m.score[cand], m.scored[cand] = s, m.stamp[c.Crop]
	return s
}

func (m *market) priceCrop(crop int) {
	if m.isDirty[crop] {
		m.savePrices(crop)
	}
	weeks, years := m.shared.crops[crop], m.p.Years
	for y, weight := range m.weight {
		grams, picked := m.harvest.year(crop, y)
		m.shared.larders[crop].prices(m.plate, grams, picked, weeks.from, weeks.to, weight, m.price[crop][y:], years)
	}
	m.clock++
	m.stamp[crop], m.fresh[crop] = m.clock, true
}

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

// hope is the most that the present move can have gained, by the prices from
// before it: what is eaten is worth less the more there is, so the true gain is no
// more. (Prices of crops that the last kept move touched may be of the middle of
// this one; then it is an estimate.)
func (m *market) hope() float64 {
	gain := 0.0
	for _, ch := range m.log {
		g := m.scoreOf(ch.planting.Cand)*float64(ch.planting.Strips) - m.p.SetupCost
		if ch.put {
			gain += g
		} else {
			gain -= g
		}
	}
	return gain
}

// keep makes a settled move final.
func (m *market) keep() {
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
