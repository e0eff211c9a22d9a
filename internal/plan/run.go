package plan

import (
	"context"
	"math"
	"sync"
	"time"
)

// searchers is how many searches run side by side.
const searchers = 2

// rounds is how often the searchers compare notes.
const rounds = 24

// run is the course of one Solve: its clock, its budget, what it has found.
type run struct {
	ctx      context.Context
	p        *Problem
	o        Options
	shared   *tables
	start    time.Time
	seconds  float64 // 0 = no limit
	progress func(Progress)
	prover   *prover // nil in the first round

	mu    sync.Mutex
	best  []Planting
	value float64 // of best, less what its changes ask
	asked float64 // what those ask
	bound float64
	found []Improvement
}

func newRun(ctx context.Context, p *Problem, o Options, progress func(Progress)) *run {
	r := &run{ctx: ctx, p: p, o: o, progress: progress,
		value: math.Inf(-1), bound: math.Inf(1), shared: newTables(p)}
	if o.Clock == nil {
		if o.Iterations == 0 {
			r.o.Iterations = unhurriedIterations
		}
		return r
	}
	r.start, r.seconds = o.Clock(), o.Seconds
	if at, ok := ctx.Deadline(); ok {
		left := max(at.Sub(r.start).Seconds(), 1e-3)
		if r.seconds == 0 || left < r.seconds {
			r.seconds = left
		}
	}
	if r.seconds == 0 && o.Iterations == 0 {
		r.seconds = 5
	}
	return r
}

// unhurriedIterations is how many moves are tried when nothing else ends the search.
const unhurriedIterations = 5000

// elapsed is the time since the start in seconds; 0 without a clock.
func (r *run) elapsed() float64 {
	if r.o.Clock == nil {
		return 0
	}
	return r.o.Clock().Sub(r.start).Seconds()
}

func (r *run) over() bool {
	return r.ctx.Err() != nil || r.seconds > 0 && r.elapsed() >= r.seconds
}

// proven says that the plan is the best there can be.
func (r *run) proven() bool {
	return r.prover != nil && r.bound-r.value <= 1e-7*(1+math.Abs(r.bound))
}

// turns gives every member of the team its part of a round: one searcher all of
// it; the prover its share and the other searcher what it leaves. The searchers
// change places every round.
func (r *run) turns(team []*searcher, round int) {
	slice := (r.seconds - r.elapsed()) / float64(rounds-round)
	alone, sharing := team[round%2], team[1-round%2]
	second := func() {
		proving := slice * proverShare
		if r.prover == nil || r.prover.done {
			proving = 0
		} else {
			r.prove(round, proving)
		}
		r.search(sharing, round, slice-proving)
	}
	if r.o.Threads < 2 {
		slice /= 2
		r.search(alone, round, slice)
		second()
		return
	}
	var wg sync.WaitGroup
	wg.Go(second)
	r.search(alone, round, slice)
	wg.Wait()
}

// proverShare is the prover's part of its lane's time, stepsPerMove the like where
// iterations are counted.
const (
	proverShare  = 0.9
	stepsPerMove = 1.0 / 100
)

// prove lets the prover work for some seconds, or until it has made the steps due.
func (r *run) prove(round int, seconds float64) {
	began := r.elapsed()
	due := float64(r.o.Iterations) * stepsPerMove * float64(round+1) / rounds
	for !r.prover.done {
		if r.ctx.Err() != nil || r.seconds > 0 && r.elapsed() >= began+seconds || r.o.Iterations > 0 && r.prover.used() >= due {
			return
		}
		r.prover.work(float64(round) / rounds)
		r.reportBound()
	}
}

// search runs one searcher through one round: its part of the moves, or of the
// time, whichever ends first.
func (r *run) search(s *searcher, round int, seconds float64) {
	began := r.elapsed()
	moves := r.o.Iterations / rounds
	if round < r.o.Iterations%rounds {
		moves++
	}
	for n := 0; r.o.Iterations == 0 || n < moves; n++ {
		if n%16 == 0 {
			now := r.elapsed()
			if r.ctx.Err() != nil || r.seconds > 0 && now >= began+seconds {
				return
			}
			share := (now - began) / seconds
			if r.o.Iterations > 0 {
				share = float64(n) / float64(moves)
			}
			s.cool((float64(round) + share) / rounds)
		}
		if s.try() {
			r.report(s)
		}
	}
}

// report takes over a searcher's best plan if no better is known.
func (r *run) report(s *searcher) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if s.top <= r.value {
		return
	}
	r.best, r.value, r.asked = s.topPlan, s.top, s.topAsked
	r.tell()
}

// reportBound takes over the prover's bound if it is a better one.
func (r *run) reportBound() {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.prover.bound >= r.bound {
		return
	}
	r.bound = r.prover.bound
	r.tell()
}

// tell notes the present value and bound and hands them on. While there is no
// bound yet nothing is noted, since JSON has no infinity.
func (r *run) tell() {
	at := r.elapsed()
	if !math.IsInf(r.bound, 1) {
		r.found = append(r.found, Improvement{at, r.value + r.asked, r.bound})
	}
	if r.progress != nil {
		r.progress(Progress{at, r.value + r.asked, r.bound, r.best})
	}
}
