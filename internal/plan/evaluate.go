package plan

import "fmt"

// Value is what a plan is worth and what that is made of, in the problem's money.
type Value struct {
	Total    float64   // Table - Seed - Labour - Overtime - Setup
	Table    float64   // risk measure of Years
	Mean     float64   // plain mean of Years
	BadYears float64   // mean of the worst Alpha share of Years; 0 where Lambda is 0
	Seed     float64   // seed and sundries
	Labour   float64   // every minute at its plain cost
	Overtime float64   // what minutes above the weekly cap cost on top
	Setup    float64   // one per planting
	Years    []float64 // worth of each weather year at the table
}

// Evaluate gives the exact value of a plan, standing crops included: for every
// crop and year the best use of what was picked (see larder). The error tells of
// a planting that names no candidate or bed; whether the plan keeps the rules is
// for Validate to say. p must have passed Check.
func Evaluate(p *Problem, plantings []Planting) (Value, error) {
	v := Value{Years: make([]float64, p.Years)}
	for i, pl := range plantings {
		if pl.Cand < 0 || pl.Cand >= len(p.Cands) || pl.Bed < 0 || pl.Bed >= len(p.Beds) || pl.Strips < 1 {
			return Value{}, fmt.Errorf("planting %d: no such candidate (%d), bed (%d) or length (%d strips)",
				i, pl.Cand, pl.Bed, pl.Strips)
		}
		v.Seed += p.Cands[pl.Cand].Cost * float64(pl.Strips)
	}
	harvest := newHarvest(p, plantings)
	pt := newPlate(p)
	for c := range p.Crops {
		l := newLarder(p, &p.Crops[c])
		for s := range p.Years {
			grams, picked := harvest.year(c, s)
			v.Years[s] += l.value(pt, grams, picked)
		}
	}
	r := newRisk(p)
	order := make([]float64, p.Years)
	v.Table, v.BadYears = r.value(v.Years, order), r.worst(v.Years, order)
	for _, x := range v.Years {
		v.Mean += x / float64(p.Years)
	}
	for _, tenths := range weeklyLabour(p, plantings) {
		minutes := float64(tenths) / 10
		v.Labour += minutes * p.LabourCost
		v.Overtime += max(0, minutes-p.LabourCap) * p.OvertimeCost
	}
	v.Setup = p.SetupCost * float64(len(plantings))
	v.Total = v.Table - v.Seed - v.Labour - v.Overtime - v.Setup
	return v, nil
}

// weeklyLabour is the work of a plan in tenths of a minute by week.
func weeklyLabour(p *Problem, plantings []Planting) []int64 {
	work := make([]int64, p.Weeks)
	for _, pl := range plantings {
		c := &p.Cands[pl.Cand]
		for k, tenths := range c.Labour {
			work[c.LabourAt+k] += int64(tenths) * int64(pl.Strips)
		}
	}
	return work
}

// harvest is what is picked, in grams, by crop, year and week. Whole grams make
// adding and taking away a planting exact.
type harvest struct {
	years, weeks, words int
	grams               []int32
	picked              []uint64 // a bit per week with anything in it
}

func newHarvest(p *Problem, plantings []Planting) *harvest {
	h := &harvest{years: p.Years, weeks: p.Weeks, words: (p.Weeks + 63) / 64}
	h.grams = make([]int32, len(p.Crops)*h.years*h.weeks)
	h.picked = make([]uint64, len(p.Crops)*h.years*h.words)
	for b := range p.Beds {
		for i := range p.Beds[b].Standing {
			s := &p.Beds[b].Standing[i]
			h.add(s.Crop, s.Yield, s.Strips)
		}
	}
	for _, pl := range plantings {
		h.add(p.Cands[pl.Cand].Crop, p.Cands[pl.Cand].Yield, pl.Strips)
	}
	return h
}

// year is one crop's pickings in one year, as larder.value takes them.
func (h *harvest) year(crop, year int) ([]int32, []uint64) {
	at := crop*h.years + year
	return h.grams[at*h.weeks : (at+1)*h.weeks], h.picked[at*h.words : (at+1)*h.words]
}

// add puts strips (negative: takes away) times a per-strip yield into a crop's harvest.
func (h *harvest) add(crop int, yields []Yield, strips int) {
	for s := range yields {
		grams, picked := h.year(crop, s)
		for k, g := range yields[s].Grams {
			w := yields[s].First + k
			grams[w] += g * int32(strips)
			if grams[w] != 0 {
				picked[w>>6] |= 1 << (w & 63)
			} else {
				picked[w>>6] &^= 1 << (w & 63)
			}
		}
	}
}
