package app

import (
	"context"
	"fmt"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/cropping"
	"haulm/internal/garden"
	"haulm/internal/plan"
)

// PlanQuestion asks for a year's plan.
type PlanQuestion struct {
	Garden     *garden.Garden
	From       calendar.Date // day on which the plan begins
	Seconds    float64       // how long to search
	Iterations int           // or so many moves, for a plan that comes out the same everywhere
	Seed       int64
	Habit      cropping.Habit      // what the garden has taught; nil = by the book
	Progress   func(plan.Progress) // may be nil

	// Saw is handed the best plan so far, told in the gardener's terms, after
	// an improvement, at most every Pause; its Glimpse may be kept. May be nil.
	Saw   func(Glimpse)
	Pause time.Duration
}

// Glimpse is a plan on the way to a better one.
type Glimpse struct {
	Seconds float64
	Value   float64
	Year    *cropping.Year // nil where only the value is new
}

// Planned is a plan and what it was made from.
type Planned struct {
	Lay      *cropping.Lay
	Result   plan.Result
	Year     *cropping.Year
	TidyLoss float64          // share of its worth that whole rows and even steps cost; 0 = not known
	Shade    float64          // m² times weeks of noon shade of tall crops on their neighbours that no order along the beds spares; 0 = none, or not known
	Unfit    []cropping.Unfit // plantings that the garden, as it now is, no longer lets stand
}

// Plan lays the garden out over the weather, searches, and tells the best plan
// found. Ending ctx ends the search; the best plan found by then is told.
func (w *Weather) Plan(ctx context.Context, q PlanQuestion, catalogue *crop.Catalogue) (*Planned, error) {
	lay, err := cropping.NewLay(cropping.Question{Garden: q.Garden, Catalogue: catalogue, Climate: w.Climate, From: q.From, Habit: q.Habit})
	if err != nil {
		return nil, err
	}
	return searchLay(ctx, lay, q, nil)
}

// searchLay searches a layout, going on from a plan where one is kept, and
// tells the best plan found.
func searchLay(ctx context.Context, lay *cropping.Lay, q PlanQuestion, keep []plan.Planting) (*Planned, error) {
	w := &watcher{lay: lay, question: q}
	result, err := solve(ctx, lay.Problem, plan.Options{Seed: q.Seed, Seconds: q.Seconds, Iterations: q.Iterations, Keep: keep}, w.progress)
	if err != nil {
		return nil, fmt.Errorf("the plan is not shown: %w", err)
	}
	tidied := lay.Tidy(result.Plantings)
	if broken := plan.Validate(lay.Problem, tidied.Plantings); len(broken) > 0 {
		return nil, fmt.Errorf("the plan is not shown: put in order it breaks a rule: %v", broken[0])
	}
	result.Plantings = tidied.Plantings
	if worth, err := plan.Evaluate(lay.Problem, result.Plantings); err == nil {
		result.Value = worth.Total
	}
	result.Gap = plan.Gap(result.Value, result.Bound)
	year, err := lay.Tell(result.Plantings, result.Value)
	if err != nil {
		return nil, err
	}
	return &Planned{Lay: lay, Result: result, Year: year, Unfit: lay.Refused(), TidyLoss: tidied.Loss(), Shade: tidied.Shade}, nil
}

// watcher hands a search's progress on to those who look on.
type watcher struct {
	lay      *cropping.Lay
	question PlanQuestion
	last     float64
}

func (w *watcher) progress(p plan.Progress) {
	if w.question.Progress != nil {
		w.question.Progress(p)
	}
	if w.question.Saw == nil {
		return
	}
	glimpse := Glimpse{Seconds: p.Seconds, Value: p.Value}
	if w.last == 0 || p.Seconds-w.last >= w.question.Pause.Seconds() {
		w.last = max(p.Seconds, 1e-9)
		if year, err := w.lay.Tell(p.Plantings, p.Value); err == nil { // a plan that cannot be told is told at the end
			glimpse.Year = year
		}
	}
	w.question.Saw(glimpse)
}

// stopwatch times a search. It is not the day: that is handed in.
func stopwatch() time.Time { return time.Now() }

// planThreads is what a small household machine can spare.
const planThreads = 2

// solve is the only way to a plan that is kept: it searches, and hands back
// nothing that breaks a rule.
func solve(ctx context.Context, p *plan.Problem, o plan.Options, progress func(plan.Progress)) (plan.Result, error) {
	o.Threads, o.Clock = planThreads, stopwatch
	result := plan.Solve(ctx, p, o, progress)
	if broken := plan.Validate(p, result.Plantings); len(broken) > 0 {
		return result, fmt.Errorf("the plan found breaks a rule: %v", broken[0])
	}
	return result, nil
}

// Solve runs the pure cropping problem.
func Solve(ctx context.Context, p *plan.Problem, seconds float64, seed int64, progress func(plan.Progress)) (plan.Result, error) {
	return solve(ctx, p, plan.Options{Seed: seed, Seconds: seconds}, progress)
}

// SolveFrom is Solve going on from a plan, which the plan found is no worse than.
func SolveFrom(ctx context.Context, p *plan.Problem, kept []plan.Planting, seconds float64, seed int64, progress func(plan.Progress)) (plan.Result, error) {
	if broken := plan.Validate(p, kept); len(broken) > 0 {
		return plan.Result{}, fmt.Errorf("the plan to keep does not fit the problem: %v", broken[0])
	}
	return solve(ctx, p, plan.Options{Seed: seed, Seconds: seconds, Keep: kept}, progress)
}

// NextSeason is the day on which a plan made today begins: the season year's
// start when it is near, else today.
func NextSeason(today calendar.Date, south bool) calendar.Date {
	year := calendar.SeasonYear(today, south)
	for _, start := range []calendar.Date{calendar.SeasonStart(year, south), calendar.SeasonStart(year+1, south)} {
		first := start.Add(6).Monday()
		if ahead := int(first - today); ahead >= 0 && ahead <= planAheadDays {
			return first
		}
	}
	return today.Monday()
}

// planAheadDays is how long before the season its plan is made: from early
// autumn in the north, when garlic and the first onions go in, a plan begins
// at once.
const planAheadDays = 70
