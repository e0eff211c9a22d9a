package cropping

import (
	"math"

	"haulm/internal/garden"
	"haulm/internal/plan"
)

// Whole rows: a strip is the planner's grain, a row the gardener's. Rows are
// set over a planting's strips a little wider or closer than the book has them,
// up to Rules.RowFlexShare, so that they come out whole; where that does not do,
// the rest of the strips stays bare and counts for nothing.

// rowsOf is how many whole rows go on a stretch, and how far apart they stand;
// 0 where not even one does.
func rowsOf(lengthCM, betweenCM, flex float64) (rows int, apartCM float64) {
	n := math.Floor(lengthCM/betweenCM + 1e-9)
	if more := n + 1; lengthCM >= more*betweenCM*(1-flex) {
		return int(more), lengthCM / more
	}
	if n == 0 {
		return 0, betweenCM
	}
	return int(n), math.Min(lengthCM/n, betweenCM*(1+flex))
}

// rowed is a planting's stretch in whole rows: how long they are together, and
// how far apart. Pots are as they are.
func (l *Lay) rowed(p plan.Planting) (lengthCM, apartCM float64) {
	b, between := l.beds[p.Bed], l.choices[p.Cand].route.BetweenRowCM
	length := float64(b.fromCM(p.Strip+p.Strips) - b.fromCM(p.Strip))
	if b.place.Kind == garden.Pots || between <= 0 {
		return length, between
	}
	rows, apart := rowsOf(length, between, l.rules.RowFlexShare)
	return float64(rows) * apart, apart
}

// rowShare is the part of a planting's strips that its whole rows take.
func (l *Lay) rowShare(p plan.Planting) float64 {
	b := l.beds[p.Bed]
	length, _ := l.rowed(p)
	return length / float64(b.fromCM(p.Strip+p.Strips)-b.fromCM(p.Strip))
}

// inRows is the problem and the plan with every planting's yield, seed and work
// cut to its whole rows.
func (l *Lay) inRows(plantings []plan.Planting) (*plan.Problem, []plan.Planting) {
	p := *l.Problem
	p.Cands, p.Fixed, p.Closed = nil, nil, nil
	out := make([]plan.Planting, len(plantings))
	for i, one := range plantings {
		c := l.choices[one.Cand].numbers
		share := l.rowShare(one)
		c.Cost *= share
		c.Yield = scaled(c.Yield, share)
		labour := make([]int32, len(c.Labour))
		for k, tenths := range c.Labour {
			labour[k] = int32(float64(tenths)*share + 0.5)
		}
		c.Labour = labour
		p.Cands = append(p.Cands, c)
		out[i] = plan.Planting{Cand: i, Bed: one.Bed, Strip: one.Strip, Strips: one.Strips}
	}
	return &p, out
}

// scaled is a share of some yields.
func scaled(yields []plan.Yield, share float64) []plan.Yield {
	out := make([]plan.Yield, len(yields))
	for y := range yields {
		out[y].First = yields[y].First
		for _, g := range yields[y].Grams {
			out[y].Grams = append(out[y].Grams, int32(float64(g)*share+0.5))
		}
	}
	return out
}

// rowWorth is what a plan is worth in whole rows.
func (l *Lay) rowWorth(plantings []plan.Planting) float64 {
	p, cut := l.inRows(plantings)
	v, err := plan.Evaluate(p, cut)
	if err != nil {
		return 0
	}
	return v.Total
}
