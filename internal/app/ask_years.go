package app

import (
	"context"
	"fmt"
	"math"
	"strings"

	"haulm/internal/cropping"
	"haulm/internal/plan"
)

// YearsAnswer sets the plan that is best in the mean of the years beside the one that
// is best in the bad ones.
type YearsAnswer struct {
	BadShare float64     `json:"bad_share"` // of the years that count as bad
	Mean     LeaningPlan `json:"for_the_mean"`
	Bad      LeaningPlan `json:"for_bad_years"`
	Shifts   []Shift     `json:"shifts"` // from the first to the second
	Words    []string    `json:"words"`
}

// LeaningPlan is one of the two, with its worth in both sorts of year, costs paid.
type LeaningPlan struct {
	InMean   float64       `json:"worth_in_the_mean"`
	InBad    float64       `json:"worth_in_bad_years"`
	Bound    float64       `json:"bound"` // no plan is worth more by the measure that this one was made for
	Portions cropping.Odds `json:"portions"`
}

// AskYears tells what it costs to plan for the bad years.
func (d *Desk) AskYears(ctx context.Context, q AskQuestion) (*YearsAnswer, error) {
	a, err := d.asking(q)
	if err != nil {
		return nil, err
	}
	p := a.lay.Problem
	mean, bad := plan.Lean(ctx, p, a.kept, a.options())
	forMean, before, err := a.leaning(p, mean)
	if err != nil {
		return nil, err
	}
	forBad, after, err := a.leaning(p, bad)
	if err != nil {
		return nil, err
	}
	answer := &YearsAnswer{BadShare: p.Alpha, Mean: *forMean, Bad: *forBad, Shifts: shifts(before, after)}
	answer.Words = answer.words(p)
	return answer, nil
}

func (a *asking) leaning(p *plan.Problem, l plan.Leaning) (*LeaningPlan, *cropping.Year, error) {
	figures, year, err := a.figures(p, l.Result)
	if err != nil {
		return nil, nil, err
	}
	return &LeaningPlan{InMean: l.Mean, InBad: l.BadYear, Bound: l.Result.Bound, Portions: figures.Portions}, year, nil
}

func (y *YearsAnswer) words(p *plan.Problem) []string {
	share := fmt.Sprintf("worst %.0f %% of the years", 100*p.Alpha)
	costs, saves := y.Mean.InMean-y.Bad.InMean, y.Bad.InBad-y.Mean.InBad
	if max(costs, saves) < 0.5 {
		return []string{
			fmt.Sprintf("The best plan found for the mean of the years is also the best found for the %s: it is worth %s in the mean and %s in them.", share, count(y.Mean.InMean), count(y.Mean.InBad)),
			fmt.Sprintf("It was found by search; proven is that no plan is worth more than %.0f in the mean, or than %.0f in the bad years.", math.Ceil(y.Mean.Bound), math.Ceil(y.Bad.Bound)),
		}
	}
	words := []string{
		fmt.Sprintf("Planned for the mean, this ground is worth %s in the mean of the years and %s in the %s.", count(y.Mean.InMean), count(y.Mean.InBad), share),
		fmt.Sprintf("Planned for the %s, it is worth %s in them and %s in the mean: %s more where it is worst, for %s in the mean.",
			share, count(y.Bad.InBad), count(y.Bad.InMean), count(saves), count(costs)),
		fmt.Sprintf("Both are the best found by search; proven is that no plan is worth more than %.0f in the mean, or than %.0f in the %s.",
			math.Ceil(y.Mean.Bound), math.Ceil(y.Bad.Bound), share),
		fmt.Sprintf("At the table: in the poor year of ten %s portions and %s, in a middling one %s and %s.",
			count(y.Mean.Portions.P10), count(y.Bad.Portions.P10), count(y.Mean.Portions.P50), count(y.Bad.Portions.P50)),
	}
	if s := shiftWords(y.Shifts); s != "" {
		words = append(words, "Planning for bad years: "+strings.ToLower(s[:1])+s[1:])
	}
	return append(words, fmt.Sprintf("Your own plan looks to both: the mean counts %.0f %%, the bad years %.0f %%.", 100*(1-p.Lambda), 100*p.Lambda))
}
