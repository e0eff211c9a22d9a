package app

import (
	"fmt"
	"math"
	"slices"

	"haulm/internal/plan"
	"haulm/internal/unit"
)

// Simpler is the plan with fewer plantings.
type Simpler struct {
	Fewer    int     `json:"fewer"`
	Left     int     `json:"left"`
	Loss     float64 `json:"loss"`           // share of the plan's worth; below 0, the simpler plan is worth more
	Portions float64 `json:"portions_fewer"` // in a middling first year; below 0, so many more

	plantings []plan.Planting
}

// Frontier is how much a simpler year costs: one entry for each planting fewer,
// as many as asked for and can go. What was begun by today stays.
func (d *Desk) Frontier(fewest int) (*Planned, []Simpler, error) {
	planned, err := d.Planned()
	if err != nil {
		return nil, nil, err
	}
	own := planned.Result.Plantings
	lay := planned.Lay.Holding(slices.Concat(planned.Lay.BegunBefore(own, d.Today()), planned.Lay.KeptAmong(own)))
	whole := lay.WorthOf(own)
	var out []Simpler
	for i, step := range lay.Simplify(own, fewest) {
		out = append(out, Simpler{Fewer: i + 1, Left: len(step.Plantings), Loss: whole.Loss(step.Worth), plantings: step.Plantings})
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
		return nil, nil, tooFew(fewer, len(steps), len(planned.Result.Plantings))
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

// tooFew says how many plantings can go instead of more than can.
func tooFew(fewer, can, all int) error {
	asked := unit.Counted(fewer, "planting", "plantings") + " fewer"
	switch can {
	case 0:
		return fmt.Errorf("%s: none of the plan's %d can be taken out; each has begun, or you keep it", asked, all)
	case all:
		return fmt.Errorf("%s: the plan has only %d; ask for %d or less", asked, all, can)
	}
	return fmt.Errorf("%s: %d of the plan's %d can be taken out; the others have begun, or you keep them; ask for %d or less", asked, can, all, can)
}

// Words tell what having so many plantings fewer does to the plan's worth.
func (s Simpler) Words() string {
	percent := unit.Number(100*math.Abs(s.Loss), 1)
	switch {
	case percent == "0":
		return "costs nothing"
	case s.Loss < 0:
		return "gains " + percent + " %"
	}
	return "costs " + percent + " %"
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
