package plan

// tables is what all searchers of one problem share and none changes.
type tables struct {
	larders []*larder
	risk    risk
	byCrop  [][]int // candidates of each crop
	crops   []span  // weeks in which each crop can be picked at all
	yields  []block // per candidate
}

type span struct{ from, to int }

// block is a candidate's yield in grams of every year, week by week, the years of a week
// side by side: grams[(w-from)*Years+s].
type block struct {
	from  int
	grams []float64
}

func newTables(p *Problem) *tables {
	t := &tables{risk: newRisk(p), byCrop: make([][]int, len(p.Crops))}
	for c := range p.Crops {
		t.larders = append(t.larders, newLarder(p, &p.Crops[c]))
		t.crops = append(t.crops, span{p.Weeks, 0})
	}
	for i := range p.Cands {
		c := p.Cands[i].Crop
		t.byCrop[c] = append(t.byCrop[c], i)
		all := pickedWeeks(p.Cands[i].Yield)
		t.yields = append(t.yields, newBlock(p, all, p.Cands[i].Yield))
		t.crops[c].join(all)
	}
	for b := range p.Beds {
		for _, s := range p.Beds[b].Standing {
			t.crops[s.Crop].join(pickedWeeks(s.Yield))
		}
	}
	return t
}

func (a *span) join(b span) {
	if b.from < b.to {
		a.from, a.to = min(a.from, b.from), max(a.to, b.to)
	}
}

func pickedWeeks(yields []Yield) span {
	all := span{from: maxWeeks}
	for _, y := range yields {
		all.join(span{y.First, y.First + len(y.Grams)})
	}
	return all
}

func newBlock(p *Problem, weeks span, yields []Yield) block {
	if weeks.from >= weeks.to {
		return block{}
	}
	b := block{weeks.from, make([]float64, (weeks.to-weeks.from)*p.Years)}
	for s, y := range yields {
		for k, g := range y.Grams {
			b.grams[(y.First+k-b.from)*p.Years+s] = float64(g)
		}
	}
	return b
}

// within is the part of a block in a span.
func (b *block) within(weeks span, years int) block {
	from, to := max(b.from, weeks.from), min(b.from+len(b.grams)/years, weeks.to)
	if from >= to {
		return block{}
	}
	return block{from, b.grams[(from-b.from)*years : (to-b.from)*years]}
}

// dot is the worth of a block at prices laid out alike from week 0.
func (b *block) dot(prices []float64, years int) float64 {
	if len(b.grams) == 0 {
		return 0
	}
	grams := b.grams
	prices = prices[b.from*years:][:len(grams)]
	var s0, s1, s2, s3 float64
	i := 0
	for ; i+4 <= len(grams); i += 4 {
		g, q := grams[i:i+4:i+4], prices[i:i+4:i+4]
		s0 += g[0] * q[0]
		s1 += g[1] * q[1]
		s2 += g[2] * q[2]
		s3 += g[3] * q[3]
	}
	for ; i < len(grams); i++ {
		s0 += grams[i] * prices[i]
	}
	return s0 + s1 + s2 + s3
}
