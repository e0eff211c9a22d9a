package web

import (
	"context"
	"sync"
	"time"

	"haulm/internal/app"
	"haulm/internal/calendar"
	"haulm/internal/cropping"
)

// planner runs one search for a plan at a time in the background, and tells
// whoever watches how far it is.
type planner struct {
	desk *app.Desk

	mu   sync.Mutex
	run  *run // the latest, nil before the first
	stop context.CancelFunc
}

// run is one search. Its fields are read under the planner's lock.
type run struct {
	began   time.Time
	seconds float64 // how long it may take
	done    chan struct{}

	news    chan struct{} // closed and renewed at every change
	over    bool
	err     error
	elapsed float64
	value   float64
	values  []float64 // of each improvement, in order
	year    *cropping.Year
}

// redrawEvery is how often the drawing of a growing plan is renewed; a value
// alone is told at once.
const redrawEvery = 900 * time.Millisecond

func newPlanner(desk *app.Desk) *planner { return &planner{desk: desk} }

// start begins a search, unless one is going on: that one is then the answer.
func (pl *planner) start(from calendar.Date, seconds float64, seed int64) {
	pl.mu.Lock()
	defer pl.mu.Unlock()
	if pl.run != nil && !pl.run.over {
		return
	}
	ctx, cancel := context.WithCancel(context.Background())
	r := &run{began: time.Now(), seconds: seconds, done: make(chan struct{}), news: make(chan struct{})}
	pl.run, pl.stop = r, cancel
	go pl.search(ctx, r, app.WatchQuestion{
		From: from, Seconds: seconds, Seed: seed, Pause: redrawEvery,
		Saw: func(g app.Glimpse) { pl.saw(r, g) },
	})
}

func (pl *planner) search(ctx context.Context, r *run, q app.WatchQuestion) {
	planned, err := pl.desk.WatchPlan(ctx, q)
	pl.mu.Lock()
	r.over, r.err = true, err
	if err == nil {
		r.value, r.year, r.elapsed = planned.Result.Value, planned.Year, planned.Result.Seconds
	}
	r.tell()
	pl.mu.Unlock()
	close(r.done)
}

func (pl *planner) saw(r *run, g app.Glimpse) {
	pl.mu.Lock()
	defer pl.mu.Unlock()
	r.elapsed, r.value = g.Seconds, g.Value
	r.values = append(r.values, g.Value)
	if g.Year != nil {
		r.year = g.Year
	}
	r.tell()
}

func (r *run) tell() {
	close(r.news)
	r.news = make(chan struct{})
}

// state is a run as it stood at one moment.
type state struct {
	seconds float64 // how long the search may take
	elapsed float64
	value   float64
	values  []float64
	year    *cropping.Year
	over    bool
	err     error
	news    <-chan struct{} // closed when there is more to see
}

// now is the latest run's state; false before the first.
func (pl *planner) now() (state, bool) {
	pl.mu.Lock()
	defer pl.mu.Unlock()
	r := pl.run
	if r == nil {
		return state{}, false
	}
	elapsed := r.elapsed
	if !r.over {
		elapsed = min(time.Since(r.began).Seconds(), r.seconds)
	}
	return state{r.seconds, elapsed, r.value, append([]float64(nil), r.values...), r.year, r.over, r.err, r.news}, true
}

// halt ends the search; the best plan so far is kept.
func (pl *planner) halt() <-chan struct{} {
	pl.mu.Lock()
	defer pl.mu.Unlock()
	if pl.run == nil {
		none := make(chan struct{})
		close(none)
		return none
	}
	pl.stop()
	return pl.run.done
}

func (pl *planner) close(ctx context.Context) {
	select {
	case <-pl.halt():
	case <-ctx.Done():
	}
}
