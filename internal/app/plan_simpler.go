package app

import (
	"fmt"
	"slices"

	"haulm/internal/plan"
)

// Simpler is the plan with fewer plantings.
type Simpler struct {
	Fewer    int     `json:"fewer"`
	Left     int     `json:"left"`
	Loss     float64 `json:"loss"` // share of the plan's worth
	Portions float64 `json:"portions_fewer"`

	plantings []plan.Planting
}

// Frontier is how much a simpler year costs: one entry for each planting fewer,
// as many as asked for and can go. What was begun by today stays.
func (d *Desk) Frontier(fewest int) (*Planned, []Simpler, error) {
	planned, err := d.Planned()
	if err != nil {
		return nil, nil, err
	}
	lay, own := planned.Lay, planned.Result.Plantings
	problem := *lay.Problem
	problem.Fixed = lay.BegunBefore(own, d.Today())
	for _, f := range lay.KeptAmong(own) {
		if !slices.Contains(problem.Fixed, f) {
			problem.Fixed = append(problem.Fixed, f)
		}
	}
	whole, err := plan.Evaluate(&problem, own)
	if err != nil {
		return nil, nil, err
	}
	var out []Simpler
	for i, step := range plan.Simplify(&problem, own, fewest) {
		s := Simpler{Fewer: i + 1, Left: len(step.Plantings), plantings: step.Plantings}
		if whole.Total > 0 {
			s.Loss = max(0, (whole.Total-step.Value)/whole.Total)
		}
		out = append(out, s)
	}
	return planned, out, nil
}

// TakeSimpler makes the plan with so many plantings fewer the present one, and
// tells what it costs. UndoPlan goes back.
func (d *Desk) TakeSimpler(fewer int) (*Simpler, *Planned, error) {
	if fewer < 1 {
		return nil, nil, fmt.Errorf("%d plantings fewer: say 1 or more", fewer)
	}
	planned, steps, err := d.Frontier(fewer)
	if err != nil {
		return nil, nil, err
	}
	if len(steps) < fewer {
		return nil, nil, fmt.Errorf("%d plantings fewer: only %d can go, the rest is begun or kept", fewer, len(steps))
	}
	step := steps[fewer-1]
	after, err := toldAs(planned.Lay, step.plantings)
	if err != nil {
		return nil, nil, err
	}
	after.Result.Bound = planned.Result.Bound
	after.Result.Gap = plan.Gap(after.Result.Value, after.Result.Bound)
	step.Portions = planned.Year.Totals.FirstYear.P50 - after.Year.Totals.FirstYear.P50
	return &step, after, d.replace(after)
}

// replace keeps a plan told from the present one's layout in its place.
func (d *Desk) replace(p *Planned) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	text, err := d.planText()
	if err != nil {
		return err
	}
	was, err := readSaved(text)
	if err != nil {
		return err
	}
	p.TidyLoss = was.TidyLoss
	return d.takeLocked(p, was.RestOn, was.Ended)
}
