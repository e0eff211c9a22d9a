package app

import (
	"context"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/plan"
)

// WatchQuestion asks for a plan of the desk's garden while somebody looks on.
type WatchQuestion struct {
	From       calendar.Date // None = the next season
	Seconds    float64
	Iterations int // or so many moves, for a plan that comes out the same everywhere
	Seed       int64
	Progress   func(plan.Progress) // may be nil

	// Saw and Pause are as in PlanQuestion.
	Saw   func(Glimpse)
	Pause time.Duration
}

// MakePlan plans the year from from on (None: the next season) and keeps the
// plan.
func (d *Desk) MakePlan(ctx context.Context, from calendar.Date, seconds float64, seed int64, progress func(plan.Progress)) (*Planned, error) {
	return d.WatchPlan(ctx, WatchQuestion{From: from, Seconds: seconds, Seed: seed, Progress: progress})
}

// WatchPlan is MakePlan with the drawing improving while one watches. Ending
// ctx stops the search; the best plan found by then is kept all the same.
func (d *Desk) WatchPlan(ctx context.Context, q WatchQuestion) (*Planned, error) {
	g, err := d.Garden()
	if err != nil {
		return nil, err
	}
	w, err := d.Weather()
	if err != nil {
		return nil, err
	}
	if !q.From.Known() {
		q.From = NextSeason(d.Today(), g.Site.South())
	}
	habit, err := d.habit()
	if err != nil {
		return nil, err
	}
	planned, err := w.Plan(ctx, PlanQuestion{
		Habit:  habit,
		Garden: g, From: q.From, Seconds: q.Seconds, Iterations: q.Iterations, Seed: q.Seed, Progress: q.Progress, Saw: q.Saw, Pause: q.Pause,
	}, d.Catalogue)
	if err != nil {
		return nil, err
	}
	return planned, d.take(planned)
}
