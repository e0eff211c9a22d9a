package plan

import (
	"math"
	"slices"
)

// auditMargin is what a gram more of a crop would be worth by week and year in a span,
// were a point's strips planted besides what is there anyhow and nothing picked or
// eaten in other weeks.
func auditMargin(p *Problem, d *Duals, c int, point []Part, w *Whole) []float64 {
	out := make([]float64, p.Weeks*p.Years)
	extra := make([]float64, p.Weeks)
	eats := auditEats(p, &p.Crops[c])
	for s, q := range d.Years {
		clear(extra)
		for _, part := range point {
			y := p.Cands[part.Cand].Yield[s]
			for k, g := range y.Grams {
				extra[y.First+k] += float64(g) * part.Strips
			}
		}
		grams := auditHarvest(p, p.Fixed, c, s)
		for i := range grams {
			if grams[i] += math.Floor(extra[i]); i < w.From || i >= w.To {
				grams[i] = 0
			}
		}
		margin := stockMargin(p.Crops[c].Keep, grams, func(week int) []piece {
			if week < w.From || week >= w.To {
				return nil
			}
			return eats(week)
		})
		for i, v := range margin {
			out[i*p.Years+s] = q * v
		}
	}
	return out
}

// auditHold puts a span's prices into the crop's own. Where the span meets other weeks
// its prices must go together with any that these may have: between both stands the
// mean, in proportion, of the later week's own price and the most that the earlier
// week's allows it.
func auditHold(p *Problem, c int, own, inside []float64, w *Whole) []float64 {
	keep, out := p.Crops[c].Keep, slices.Clone(own)
	between := func(week, s int) float64 {
		return math.Sqrt(own[week*p.Years+s] * own[(week-1)*p.Years+s] / keep)
	}
	for s := range p.Years {
		for i := w.From; i < w.To; i++ {
			v := inside[i*p.Years+s]
			if keep > 0 && w.To < p.Weeks {
				v = max(v, between(w.To, s)*math.Pow(keep, float64(w.To-i)))
			}
			if keep > 0 && w.From > 0 {
				v = min(v, between(w.From, s)/math.Pow(keep, float64(i-w.From)))
			}
			out[i*p.Years+s] = v
		}
		for i := w.To - 2; i >= w.From; i-- {
			out[i*p.Years+s] = max(out[i*p.Years+s], keep*out[(i+1)*p.Years+s])
		}
	}
	return out
}
