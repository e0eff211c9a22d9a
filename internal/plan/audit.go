package plan

import (
	"fmt"
	"math"
	"slices"
)

// Audit is what a stored result is found to be worth when it is worked out anew.
type Audit struct {
	Value  float64  `json:"value"`  // of the result's plantings
	Bound  float64  `json:"bound"`  // from the result's duals; what the result tells where it has none
	Proven bool     `json:"proven"` // the result had duals to work Bound out from
	Wrong  []string `json:"wrong"`  // what differs or breaks a rule; empty where all holds
}

// auditSlack is how far sums may differ by the order of adding and by the digits
// stored, as a share of the figure.
const auditSlack = 1e-6

// Check works out value, bound and rules of a stored result anew, with code that
// shares nothing with the search and the prover: the recourse is a dynamic
// programme over stocks instead of a greedy, the bound is evaluated strip by strip.
// p must have passed its own Check. Duals of the wrong shape are among Wrong.
func (r *Result) Check(p *Problem) Audit {
	a := Audit{Bound: r.Bound, Wrong: []string{}}
	broken := Validate(p, r.Plantings)
	for _, v := range broken {
		a.Wrong = append(a.Wrong, "rule broken: "+v.String())
	}
	if len(broken) > 0 && broken[0].Rule == "index" {
		return a // such a plan has no value
	}
	a.Value = auditValue(p, r.Plantings)
	if !near(a.Value, r.Value) {
		a.say("value told %.6f, worked out %.6f", r.Value, a.Value)
	}
	if r.Duals != nil {
		bound, err := auditBound(p, r.Duals)
		if err != nil {
			a.say("duals: %v", err)
			return a
		}
		a.Bound, a.Proven = bound, true
		// A worse bound told than proven is true too, but then it is not this proof's.
		if !near(bound, r.Bound) {
			a.say("bound told %.6f, proven %.6f", r.Bound, bound)
		}
	}
	if !(a.Bound >= a.Value-auditSlack*(1+math.Abs(a.Value))) {
		a.say("bound %.6f is below the value %.6f", a.Bound, a.Value)
	}
	gap := 0.0
	if r.Bound > 1e-9 {
		gap = max(0, (r.Bound-r.Value)/r.Bound)
	}
	if !(math.Abs(gap-r.Gap) <= auditSlack) {
		a.say("gap told %.6f, value and bound told make %.6f", r.Gap, gap)
	}
	return a
}

func (a *Audit) say(format string, args ...any) {
	a.Wrong = append(a.Wrong, fmt.Sprintf(format, args...))
}

// near is false for what is not a number.
func near(x, y float64) bool {
	return math.Abs(x-y) <= auditSlack*(1+math.Abs(x))
}

// auditValue is the worth of a plan by the definition, year by year.
func auditValue(p *Problem, plantings []Planting) float64 {
	years := make([]float64, p.Years)
	for s := range years {
		for c := range p.Crops {
			years[s] += auditYear(p, &p.Crops[c], auditHarvest(p, plantings, c, s))
		}
	}
	mean := 0.0
	for _, v := range years {
		mean += v / float64(p.Years)
	}
	table := (1 - p.Lambda) * mean
	if p.Lambda > 0 {
		slices.Sort(years)
		share, bad := p.Alpha*float64(p.Years), 0.0
		for i, v := range years {
			bad += min(1, max(0, share-float64(i))) * v
		}
		table += p.Lambda * bad / share
	}
	costs := p.SetupCost * float64(len(plantings))
	for _, pl := range plantings {
		costs += p.Cands[pl.Cand].Cost * float64(pl.Strips)
	}
	for w := range p.Weeks {
		minutes := 0.0
		for _, pl := range plantings {
			c := &p.Cands[pl.Cand]
			if k := w - c.LabourAt; k >= 0 && k < len(c.Labour) {
				minutes += float64(c.Labour[k]) / 10 * float64(pl.Strips)
			}
		}
		costs += minutes*p.LabourCost + max(0, minutes-p.LabourCap)*p.OvertimeCost
	}
	return table - costs
}

// auditHarvest is the grams of a crop picked in each week of a year.
func auditHarvest(p *Problem, plantings []Planting, crop, year int) []float64 {
	grams := make([]float64, p.Weeks)
	add := func(y Yield, strips int) {
		for k, g := range y.Grams {
			grams[y.First+k] += float64(g) * float64(strips)
		}
	}
	for b := range p.Beds {
		for i := range p.Beds[b].Standing {
			if st := &p.Beds[b].Standing[i]; st.Crop == crop {
				add(st.Yield[year], st.Strips)
			}
		}
	}
	for _, pl := range plantings {
		if c := &p.Cands[pl.Cand]; c.Crop == crop {
			add(c.Yield[year], pl.Strips)
		}
	}
	return grams
}

// auditYear is the worth of one crop's pickings in one year at the tiers' worths.
func auditYear(p *Problem, c *Crop, grams []float64) float64 {
	return stockWorth(c.Keep, grams, auditEats(p, c))
}

// auditEats tells what a crop's table takes in a week and at what worth.
func auditEats(p *Problem, c *Crop) func(week int) []piece {
	return func(w int) []piece {
		eat := make([]piece, 0, len(c.TierKg))
		for k := range c.TierKg {
			eat = append(eat, piece{auditWorth(p, c, k, w), c.TierKg[k] * 1000})
		}
		return eat
	}
}
