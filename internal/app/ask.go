package app

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"haulm/internal/cropping"
	"haulm/internal/plan"
	"haulm/internal/unit"
)

// AskQuestion says how long a question about the plan may be searched.
type AskQuestion struct {
	Seconds    float64
	Iterations int // or so many moves in each search, for an answer that comes out the same everywhere
	Seed       int64
}

// Difference answers what something is worth to the plan: the same ground planned
// with it and without it. Worth is in first portions: the first portion of a usual
// dish in a week that is not hungry counts 1, later ones less. Portions are those
// eaten in the first 52 weeks, whatever they are worth.
type Difference struct {
	Question string  `json:"question"`
	Worth    float64 `json:"worth"`    // by which the plan found with it is the better one; an estimate, 0 or more
	AtLeast  float64 `json:"at_least"` // proven limits of the true worth
	AtMost   float64 `json:"at_most"`

	With    PlanFigures `json:"with"`
	Without PlanFigures `json:"without"`
	Shifts  []Shift     `json:"shifts"` // dishes of which the table gets more or less without it
	Words   []string    `json:"words"`
}

// PlanFigures sum up one plan that was found.
type PlanFigures struct {
	Value     float64       `json:"value"` // its worth
	Bound     float64       `json:"bound"` // no plan of that kind is worth more
	Portions  cropping.Odds `json:"portions"`
	Plantings int           `json:"plantings"`
	HoursWeek float64       `json:"hours_a_week"`
}

// Shift is how much more of a dish comes to the table, in the mean of the years.
type Shift struct {
	Dish     string  `json:"dish"`
	Portions float64 `json:"portions"` // a year; below 0 where it is less
}

// asking is the desk's plan made ready for a question.
type asking struct {
	AskQuestion
	lay  *cropping.Lay
	kept []plan.Planting
}

func (d *Desk) asking(q AskQuestion) (*asking, error) {
	planned, err := d.Planned()
	if err != nil {
		return nil, err
	}
	a := &asking{AskQuestion: q}
	if a.lay, a.kept, err = planned.Lay.ForAsking(planned.Result.Plantings); err != nil {
		return nil, err
	}
	return a, nil
}

func (a *asking) options() plan.Options {
	return plan.Options{Seed: a.Seed, Seconds: a.Seconds, Iterations: a.Iterations, Threads: planThreads, Clock: stopwatch}
}

// compare puts two problems beside each other, and what the table gets of each.
func (a *asking) compare(ctx context.Context, wide, narrow *plan.Problem, ceiling float64) (*Difference, plan.Pair, error) {
	pair := plan.Compare(ctx, wide, narrow, a.kept, a.options(), ceiling, nil)
	answer, err := a.differ(pair, wide, narrow)
	return answer, pair, err
}

func (a *asking) differ(pair plan.Pair, wide, narrow *plan.Problem) (*Difference, error) {
	with, before, err := a.figures(wide, pair.Wide)
	if err != nil {
		return nil, err
	}
	without, after, err := a.figures(narrow, pair.Narrow)
	if err != nil {
		return nil, err
	}
	return &Difference{Worth: pair.Found, AtLeast: pair.Low, AtMost: pair.High, With: with, Without: without, Shifts: shifts(before, after)}, nil
}

// figures tells a plan of a problem that has the layout's candidates and beds.
func (a *asking) figures(p *plan.Problem, r plan.Result) (PlanFigures, *cropping.Year, error) {
	if broken := plan.Validate(p, r.Plantings); len(broken) > 0 {
		return PlanFigures{}, nil, fmt.Errorf("a plan found for the question breaks a rule: %v", broken[0])
	}
	year, err := a.lay.Tell(r.Plantings, r.Value)
	if err != nil {
		return PlanFigures{}, nil, err
	}
	return PlanFigures{Value: r.Value, Bound: r.Bound, Portions: year.Totals.FirstYear, Plantings: len(r.Plantings), HoursWeek: year.Totals.HoursAWeek}, year, nil
}

// shifts are the dishes that change most from one plan to another, by portions in
// the first 52 weeks.
func shifts(before, after *cropping.Year) []Shift {
	portions := map[string]float64{}
	add := func(year *cropping.Year, sign float64) {
		for _, week := range year.FirstYear {
			for _, h := range week.Dishes {
				portions[h.Dish] += sign * (h.Fresh + h.FromStore)
			}
		}
	}
	add(before, -1)
	add(after, 1)
	var all []Shift
	for dish, p := range portions {
		if math.Abs(p) >= leastShift {
			all = append(all, Shift{dish, p})
		}
	}
	slices.SortFunc(all, func(x, y Shift) int {
		return cmp.Or(cmp.Compare(math.Abs(y.Portions), math.Abs(x.Portions)), cmp.Compare(x.Dish, y.Dish))
	})
	return all[:min(mostShifts, len(all))]
}

// Changes of fewer portions a year are not worth telling, nor more dishes.
const (
	leastShift = 3
	mostShifts = 6
)

// count is a whole number.
func count(x float64) string { return fmt.Sprintf("%.0f", math.Abs(math.Round(x))) }

// worthWords tells found and proven worth: what follows the first sentence.
func (d *Difference) worthWords() string {
	least, most := math.Floor(d.AtLeast), math.Ceil(d.AtMost)
	if least <= 0 {
		return fmt.Sprintf("That is the difference of two plans found by search; proven is that it is no more than %.0f.", most)
	}
	return fmt.Sprintf("That is the difference of two plans found by search; proven is that it lies between %.0f and %.0f.", least, most)
}

// tableWords tells the table's portions of both plans.
func (d *Difference) tableWords(with, without string) string {
	return fmt.Sprintf("At the table, in a middling year: %s portions %s, %s %s (poor and good year in ten: %s–%s and %s–%s).",
		count(d.With.Portions.P50), with, count(d.Without.Portions.P50), without,
		count(d.With.Portions.P10), count(d.With.Portions.P90), count(d.Without.Portions.P10), count(d.Without.Portions.P90))
}

// shiftWords tells which dishes take the place, or give way.
func shiftWords(all []Shift, but ...string) string {
	var more, less []string
	for _, s := range all {
		words := fmt.Sprintf("%s %s", s.Dish, count(s.Portions))
		switch {
		case slices.Contains(but, s.Dish):
		case s.Portions > 0:
			more = append(more, words)
		default:
			less = append(less, words)
		}
	}
	var parts []string
	if len(more) > 0 {
		parts = append(parts, "more "+unit.Listed(more))
	}
	if len(less) > 0 {
		parts = append(parts, "less "+unit.Listed(less))
	}
	if len(parts) == 0 {
		return ""
	}
	return "Portions a year that change most: " + strings.Join(parts, "; ") + "."
}
