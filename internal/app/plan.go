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
	Progress   func(plan.Progress) // may be nil
}

// Planned is a plan and what it was made from.
type Planned struct {
	Lay    *cropping.Lay
	Result plan.Result
	Year   *cropping.Year
}

// Plan lays the garden out over the weather, searches, and tells the best plan
// found.
func (w *Weather) Plan(ctx context.Context, q PlanQuestion, catalogue *crop.Catalogue) (*Planned, error) {
	lay, err := cropping.NewLay(cropping.Question{Garden: q.Garden, Catalogue: catalogue, Climate: w.Climate, From: q.From})
	if err != nil {
		return nil, err
	}
	result := plan.Solve(ctx, lay.Problem, plan.Options{
		Seed: q.Seed, Seconds: q.Seconds, Iterations: q.Iterations, Threads: planThreads, Clock: stopwatch,
	}, q.Progress)
	if broken := plan.Validate(lay.Problem, result.Plantings); len(broken) > 0 {
		return nil, fmt.Errorf("the plan breaks a rule and is not shown: %v", broken[0])
	}
	year, err := lay.Tell(result.Plantings, result.Value)
	if err != nil {
		return nil, err
	}
	return &Planned{Lay: lay, Result: result, Year: year}, nil
}

// stopwatch times a search. It is not the day: that is handed in.
func stopwatch() time.Time { return time.Now() }

// planThreads is what a small household machine can spare.
const planThreads = 2

// Solve runs the pure cropping problem.
func Solve(ctx context.Context, p *plan.Problem, seconds float64, seed int64, progress func(plan.Progress)) (plan.Result, error) {
	result := plan.Solve(ctx, p, plan.Options{Seed: seed, Seconds: seconds, Threads: planThreads, Clock: stopwatch}, progress)
	if broken := plan.Validate(p, result.Plantings); len(broken) > 0 {
		return result, fmt.Errorf("the plan found breaks a rule: %v", broken[0])
	}
	return result, nil
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
