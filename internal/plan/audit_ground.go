package plan

import (
	"math"
	"slices"
)

// auditTable is what the household gains at most by buying a crop at its prices, in
// the weeks in which there can be any.
func auditTable(p *Problem, d *Duals, c int, price []float64) float64 {
	first := p.Weeks
	see := func(yields []Yield) {
		for _, y := range yields {
			if len(y.Grams) > 0 {
				first = min(first, y.First)
			}
		}
	}
	for i := range p.Cands {
		if p.Cands[i].Crop == c {
			see(p.Cands[i].Yield)
		}
	}
	for b := range p.Beds {
		for _, st := range p.Beds[b].Standing {
			if st.Crop == c {
				see(st.Yield)
			}
		}
	}
	total := 0.0
	for w := first; w < p.Weeks; w++ {
		for k := range p.Crops[c].TierKg {
			for s, q := range d.Years {
				total += max(0, q*auditWorth(p, &p.Crops[c], k, w)-price[w*p.Years+s]) * p.Crops[c].TierKg[k] * 1000
			}
		}
	}
	return total
}

// auditWorth is the worth of a gram eaten.
func auditWorth(p *Problem, c *Crop, tier, week int) float64 {
	v := c.TierVal[tier] / 1000
	if tier == 0 {
		v *= p.Bonus[week]
	}
	return v
}

// auditGrams is the worth of a yield at prices.
func auditGrams(p *Problem, yields []Yield, price []float64) float64 {
	total := 0.0
	for s, y := range yields {
		for k, g := range y.Grams {
			total += float64(g) * price[(y.First+k)*p.Years+s]
		}
	}
	return total
}

// auditCosts is what a strip of a candidate costs in seed, work and indoor space.
func auditCosts(p *Problem, d *Duals, cand int) float64 {
	c := &p.Cands[cand]
	total := c.Cost
	for k, tenths := range c.Labour {
		total += float64(tenths) / 10 * (p.LabourCost + d.Wage[c.LabourAt+k])
	}
	for w := c.Tray.From; w < c.Tray.To; w++ {
		total += float64(c.Tray.Hundredths) / 100 * d.Tray[w]
	}
	return total
}

// auditEarnings is what a strip of a candidate earns at most in a bed of each
// length, setup paid: earns(cand, length). Without setups that is plain.
func auditEarnings(p *Problem, d *Duals, price [][]float64, plain []float64) func(cand, length int) float64 {
	if p.SetupCost == 0 {
		return func(cand, _ int) float64 { return plain[cand] }
	}
	type key struct{ cand, length int }
	known := map[key]float64{}
	return func(cand, length int) float64 {
		at := key{cand, length}
		if v, ok := known[at]; ok {
			return v
		}
		c, best := &p.Cands[cand], math.Inf(-1)
		if plain[cand]-p.SetupCost/float64(length) <= 0 {
			return 0 // not even at the price of all it yields: bare ground earns as much
		}
		for n := max(1, c.MinStrips); n <= length; n++ {
			v := (auditAlone(p, d, price[c.Crop], cand, n) - p.SetupCost) / float64(n)
			if v < best {
				break // worth is concave in n: once falling, it falls on
			}
			best = v
		}
		v := best - auditCosts(p, d, cand)
		known[at] = v
		return v
	}
}

// auditAlone is what n strips of a candidate are worth with the table to
// themselves, each gram eaten earning what it is worth less its slot's rent.
func auditAlone(p *Problem, d *Duals, price []float64, cand, n int) float64 {
	c := &p.Cands[cand]
	crop, total := &p.Crops[c.Crop], 0.0
	eat := make([]piece, 0, len(crop.TierKg))
	for s, q := range d.Years {
		y := c.Yield[s]
		if len(y.Grams) == 0 {
			continue
		}
		picked := make([]float64, p.Weeks)
		for k, g := range y.Grams {
			picked[y.First+k] = float64(g) * float64(n)
		}
		total += stockWorth(crop.Keep, picked, func(w int) []piece {
			eat = eat[:0]
			if w < y.First {
				return eat
			}
			for k := range crop.TierKg {
				eat = append(eat, piece{min(q*auditWorth(p, crop, k, w), price[w*p.Years+s]), crop.TierKg[k] * 1000})
			}
			return eat
		})
	}
	return total
}

// auditMay says whether a candidate may grow on a strip of a bed that is busy in some
// weeks and bars some families.
func auditMay(p *Problem, cand, bed int, busy []bool, barred uint32) bool {
	c := &p.Cands[cand]
	crop := &p.Crops[c.Crop]
	return p.MayGrow(cand, bed) && !(crop.Rotate && barred>>crop.Family&1 == 1) && !slices.Contains(busy[c.Start:c.End], true)
}

// auditRuns is the most that one strip can earn up to the beginning of each week, each
// candidate of a rotating family paying the family's price.
func auditRuns(p *Problem, bed, strip int, earns func(cand int) float64, family []float64) []float64 {
	busy, barred := auditGround(p, bed, strip)
	best := make([]float64, p.Weeks+1)
	for w := 1; w <= p.Weeks; w++ {
		best[w] = best[w-1]
		for i := range p.Cands {
			c := &p.Cands[i]
			if c.End != w || !auditMay(p, i, bed, busy, barred) {
				continue
			}
			rent := 0.0
			if p.Crops[c.Crop].Rotate {
				rent = family[p.Crops[c.Crop].Family]
			}
			best[w] = max(best[w], best[c.Start]+earns(i)-rent)
		}
	}
	return best
}
