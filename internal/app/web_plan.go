package app

import (
	"context"
	"fmt"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/cropping"
	"haulm/internal/plan"
)

// WatchQuestion asks for a plan while somebody looks on.
type WatchQuestion struct {
	From       calendar.Date // None = the next season
	Seconds    float64
	Iterations int // or so many moves, for a plan that comes out the same everywhere
	Seed       int64
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

// WatchPlan is MakePlan with the drawing improving while one watches. Ending
// ctx stops the search; the best plan found by then is kept all the same.
func (d *Desk) WatchPlan(ctx context.Context, q WatchQuestion) (*Planned, error) {
	lay, err := d.layOut(q.From)
	if err != nil {
		return nil, err
	}
	w := &watcher{lay: lay, question: q}
	result := plan.Solve(ctx, lay.Problem, plan.Options{
		Seed: q.Seed, Seconds: q.Seconds, Iterations: q.Iterations, Threads: planThreads, Clock: stopwatch,
	}, w.progress)
	if broken := plan.Validate(lay.Problem, result.Plantings); len(broken) > 0 {
		return nil, fmt.Errorf("the plan breaks a rule and is not shown: %v", broken[0])
	}
	year, err := lay.Tell(result.Plantings, result.Value)
	if err != nil {
		return nil, err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	d.planned = &Planned{Lay: lay, Result: result, Year: year}
	return d.planned, d.keepPlan(d.planned)
}

func (d *Desk) layOut(from calendar.Date) (*cropping.Lay, error) {
	g, err := d.Garden()
	if err != nil {
		return nil, err
	}
	w, err := d.Weather()
	if err != nil {
		return nil, err
	}
	if !from.Known() {
		from = NextSeason(d.Today(), g.Site.South())
	}
	return cropping.NewLay(cropping.Question{Garden: g, Catalogue: d.Catalogue, Climate: w.Climate, From: from})
}

type watcher struct {
	lay      *cropping.Lay
	question WatchQuestion
	last     float64
}

func (w *watcher) progress(p plan.Progress) {
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
