package plan

import (
	"fmt"
	"math"
)

// auditBound evaluates the bound that prices prove (see "The bound" in doc.go),
// strip by strip and candidate by candidate, in the plainest way.
func auditBound(p *Problem, d *Duals) (float64, error) {
	kinds, longest := auditKinds(p)
	if err := auditShape(p, d, len(longest)); err != nil {
		return 0, err
	}
	price := auditPrices(p, d)
	own := make([]auditPlane, len(p.Crops))
	total := 0.0
	for w := range p.Weeks {
		room := p.TrayCap
		if len(p.TrayTaken) > 0 {
			room = max(0, room-float64(p.TrayTaken[w])/100)
		}
		total += d.Wage[w]*p.LabourCap + d.Tray[w]*room
	}
	for c := range p.Crops {
		own[c] = auditPlane{price[c], auditTable(p, d, c, price[c])}
		total += own[c].gain
	}
	for b := range p.Beds {
		for i := range p.Beds[b].Standing {
			st := &p.Beds[b].Standing[i]
			total += float64(st.Strips) * auditGrams(p, st.Yield, price[st.Crop])
		}
	}
	plain := make([]float64, len(p.Cands)) // a strip's earning, ground and setup unpaid
	for i := range p.Cands {
		plain[i] = auditGrams(p, p.Cands[i].Yield, price[p.Cands[i].Crop]) - auditCosts(p, d, i)
	}
	for _, pl := range p.Fixed {
		total += plain[pl.Cand]*float64(pl.Strips) - p.SetupCost
	}
	earns := auditEarnings(p, d, price, plain)
	room := make([]float64, len(p.Cands)) // what a strip's weeks earn where that is least
	for i := range room {
		room[i] = math.Inf(1)
	}
	for b := range p.Beds {
		for j := range p.Beds[b].Len {
			k := kinds[b][j]
			earns := func(cand int) float64 { return earns(cand, longest[k]) }
			runs := auditRuns(p, b, j, earns, d.Family[k])
			total += runs[p.Weeks]
			for _, x := range d.Family[k] {
				total += x
			}
			auditRoomOn(p, b, j, runs, d.Family[k], room)
		}
	}
	for c := range d.Whole {
		less, err := auditWhole(p, d, c, own[c], room, plain)
		if err != nil {
			return 0, fmt.Errorf("whole: crop %d: %w", c, err)
		}
		total -= less
	}
	return total, nil
}

// auditRoomOn lowers room to what the best run earns on a strip in the weeks of each
// candidate that may grow there, its family's price unpaid.
func auditRoomOn(p *Problem, bed, strip int, runs, family, room []float64) {
	busy, barred := auditGround(p, bed, strip)
	for i := range p.Cands {
		if c := &p.Cands[i]; auditMay(p, i, bed, busy, barred) {
			v := runs[c.End] - runs[c.Start]
			if f := p.Crops[c.Crop].Family; p.Crops[c.Crop].Rotate {
				v += family[f]
			}
			room[i] = min(room[i], v)
		}
	}
}

// auditKinds numbers the kinds of strip in order of first appearance: strips are
// alike if their beds are in sun and kind and they bar the same families and weeks.
// It tells for each kind how long the longest bed with such a strip is.
func auditKinds(p *Problem) (kinds [][]int, longest []int) {
	number := map[string]int{}
	kinds = make([][]int, len(p.Beds))
	for b := range p.Beds {
		for j := range p.Beds[b].Len {
			busy, barred := auditGround(p, b, j)
			key := fmt.Sprint(p.Beds[b].SunHours, p.Beds[b].Kind, busy, barred)
			if _, known := number[key]; !known {
				number[key] = len(number)
				longest = append(longest, 0)
			}
			k := number[key]
			kinds[b] = append(kinds[b], k)
			longest[k] = max(longest[k], p.Beds[b].Len)
		}
	}
	return kinds, longest
}

// auditGround tells the weeks in which a strip may not be planted and the families
// that may not grow there: banned, standing or fixed.
func auditGround(p *Problem, bed, strip int) ([]bool, uint32) {
	busy, barred := make([]bool, p.Weeks), p.Beds[bed].Ban[strip]
	hold := func(at, n, from, to int, c *Crop) {
		if strip < at || strip >= at+n {
			return
		}
		for w := from; w < to; w++ {
			busy[w] = true
		}
		if c != nil && c.Rotate {
			barred |= 1 << c.Family
		}
	}
	for _, st := range p.Beds[bed].Standing {
		hold(st.Strip, st.Strips, 0, st.End, &p.Crops[st.Crop])
	}
	for _, pl := range p.Fixed {
		if c := &p.Cands[pl.Cand]; pl.Bed == bed {
			hold(pl.Strip, pl.Strips, c.Start, c.End, &p.Crops[c.Crop])
		}
	}
	for _, c := range p.Closed {
		if c.Bed == bed {
			hold(c.Strip, c.Strips, c.From, c.To, nil)
		}
	}
	return busy, barred
}

// auditShape refuses lists that do not fit, prices below nothing and years'
// weights that the risk measure cannot take.
func auditShape(p *Problem, d *Duals, kinds int) error {
	if len(d.Years) != p.Years || len(d.Produce) != len(p.Crops) || len(d.Wage) != p.Weeks || len(d.Tray) != p.Weeks || len(d.Family) != kinds {
		return fmt.Errorf("the lists do not fit the problem")
	}
	if len(d.Whole) > 0 && len(d.Whole) != len(p.Crops) {
		return fmt.Errorf("trees for %d crops do not fit the problem", len(d.Whole))
	}
	sum := 0.0
	for s, q := range d.Years {
		low := (1 - p.Lambda) / float64(p.Years)
		high := low
		if p.Lambda > 0 {
			high += p.Lambda * min(1, 1/(p.Alpha*float64(p.Years)))
		}
		if !(q >= low-1e-9 && q <= high+1e-9) {
			return fmt.Errorf("year %d has weight %g, want %g to %g", s, q, low, high)
		}
		sum += q
	}
	if !(math.Abs(sum-1) < 1e-9) {
		return fmt.Errorf("the years' weights add up to %g, want 1", sum)
	}
	groups := [][]float64{d.Wage, d.Tray}
	for c, list := range d.Produce {
		if len(list) != p.Weeks*p.Years {
			return fmt.Errorf("crop %d has %d prices, want %d", c, len(list), p.Weeks*p.Years)
		}
		groups = append(groups, list)
	}
	for _, list := range d.Family {
		if len(list) != families {
			return fmt.Errorf("a kind of strip has %d prices of families, want %d", len(list), families)
		}
		groups = append(groups, list)
	}
	for _, list := range groups {
		for _, x := range list {
			if !(x >= 0 && x < math.Inf(1)) {
				return fmt.Errorf("a price is %g, want 0 or more", x)
			}
		}
	}
	for w, x := range d.Wage {
		if x > p.OvertimeCost {
			return fmt.Errorf("week %d: a minute is priced %g, above overtime's %g", w, x, p.OvertimeCost)
		}
	}
	return nil
}

// auditPrices lifts prices so that no gram is worth less than what keeping leaves
// of it is worth a week later.
func auditPrices(p *Problem, d *Duals) [][]float64 {
	all := make([][]float64, len(p.Crops))
	for c, list := range d.Produce {
		all[c] = auditLift(p, c, append([]float64(nil), list...))
	}
	return all
}

func auditLift(p *Problem, c int, list []float64) []float64 {
	for w := p.Weeks - 2; w >= 0; w-- {
		for s := range p.Years {
			list[w*p.Years+s] = max(list[w*p.Years+s], p.Crops[c].Keep*list[(w+1)*p.Years+s])
		}
	}
	return list
}
