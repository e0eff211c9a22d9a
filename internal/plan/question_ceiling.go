package plan

import "slices"

// Ceiling bounds what planting some crops can add: no plan loses more when its
// plantings of them are taken out. It knows nothing of what else wants the ground;
// so it is far from what the crops really add where ground is short, but it is
// proven, and it does not rest on how close a plan is to the best. p must have
// passed Check.
//
// Why it holds. Without them the other plantings stay as they are. What the table
// loses is, in each year, no more than the crop alone would bring it; and the risk
// measure loses no more of it than the measure that looks to the best years as the
// other does to the worst.
func Ceiling(p *Problem, crops []int) float64 {
	total, r, g := 0.0, freeRent(p), newPlot(p)
	for _, c := range crops {
		if slices.Contains(p.Without, c) {
			continue
		}
		s := newSolo(g, r, c)
		clear(s.stands) // beside it the crop can only bring less
		total += max(0, s.most())
	}
	return total
}

// CandidatesCeiling is Ceiling for some candidates only.
func CandidatesCeiling(p *Problem, cands []int) float64 {
	own := *p
	own.Cands, own.Fixed = nil, nil // what is fixed leaves less ground, not more
	var crops []int
	for _, i := range cands {
		own.Cands = append(own.Cands, p.Cands[i])
		if c := p.Cands[i].Crop; !slices.Contains(crops, c) {
			crops = append(crops, c)
		}
	}
	return Ceiling(&own, crops)
}

// freeRent charges nothing, and weighs the years as a crop could at best be weighed.
func freeRent(p *Problem) *rent {
	r := &rent{p: p, wage: make([]float64, p.Weeks), tray: make([]float64, p.Weeks), there: newHarvest(p, p.Fixed)}
	for range p.Years {
		r.years = append(r.years, 1)
	}
	measure, order, turned := newRisk(p), make([]float64, p.Years), make([]float64, p.Years)
	r.weigh = func(years []float64) float64 {
		for s, x := range years {
			turned[s] = -x
		}
		return -measure.value(turned, order)
	}
	kinds, _ := soils(p)
	for u := range kinds {
		r.ground = append(r.ground, lot{&kinds[u], make([]float64, p.Weeks+1)})
	}
	return r
}

// LabourCeiling bounds what so many minutes a week more can add: at most overtime
// saved, every week.
func LabourCeiling(p *Problem, minutes float64) float64 {
	return max(0, minutes) * p.OvertimeCost * float64(p.Weeks)
}
