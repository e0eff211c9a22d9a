package plan

import (
	"context"
	"time"
)

// Options steers Solve.
type Options struct {
	Seed       int64   // same seed and Iterations give the same plan and bound, whatever Threads
	Seconds    float64 // stop after so long; 0 = only Iterations or the context stop it
	Iterations int     // moves tried by each searcher; 0 = only Seconds or the context stop it
	Threads    int     // processors used; 0 = 1

	// Keep is a plan to go on from, as far as it fits; the plan found is worth no
	// less than what is kept of it. The search stays near it.
	Keep []Planting

	// From is a plan that is being carried out, and ChangeCost what each planting of it
	// left out, and each other one put in, must be worth. That steers the search; values
	// and bounds told leave it out.
	From       []Planting
	ChangeCost float64

	// Clock tells the time; nil where it is not known, and then Seconds and a
	// deadline cannot be kept: Iterations or ctx must end the search.
	Clock func() time.Time
}

// Progress is handed to the caller's function after every improvement of the plan
// or of the bound, one call at a time.
type Progress struct {
	Seconds   float64
	Value     float64
	Bound     float64    // +Inf before the first
	Plantings []Planting // the best plan so far; the caller may keep it, not change it
}

// Solve looks for a good plan, and for a proof of how good it is, until its time or
// its iterations are spent or ctx ends, and returns the best found. A feasible plan
// stands within a tenth of a second. With no limit given it takes five seconds, or
// unhurriedIterations where it has no clock. progress may be nil. p must have passed
// Check.
//
// Two searchers and one prover take turns on the threads. Their number does not
// follow Threads, so that what is found does not depend on the machine.
func Solve(ctx context.Context, p *Problem, o Options, progress func(Progress)) Result {
	r := newRun(ctx, p, o, progress)
	team := make([]*searcher, searchers)
	for i := range team {
		team[i] = newSearcher(p, r.shared, o.Seed, i)
		team[i].changeFrom(o.From, o.ChangeCost)
		team[i].note() // bare ground is a plan too, should time be up already
		if len(o.Keep) > 0 {
			team[i].near = true
			team[i].load(o.Keep)
			team[i].note()
		} else {
			team[i].construct()
		}
		r.report(team[i])
		if r.over() {
			return r.result(team[:i+1])
		}
	}
	for round := range rounds {
		if r.over() || r.proven() {
			break
		}
		if round == 1 {
			best := bestOf(team)
			r.prover = newProver(p, r.shared, best.topPlan, best.top)
			r.reportBound()
		}
		r.turns(team, round)
		exchange(team, round)
	}
	return r.result(team)
}

// bestOf is the searcher with the best plan found, the first of equal ones.
func bestOf(team []*searcher) *searcher {
	best := team[0]
	for _, s := range team {
		if s.top > best.top {
			best = s
		}
	}
	return best
}

// exchange lets the searcher that has fallen behind go on from the better one's
// plan in the second half of the run.
func exchange(team []*searcher, round int) {
	if round < rounds/2 {
		return
	}
	best := team[0]
	for _, s := range team {
		if s.total > best.total {
			best = s
		}
	}
	for _, s := range team {
		if s.total < best.total {
			s.load(best.plantings())
		}
	}
}

// result hands back the best plan with its exact value.
func (r *run) result(team []*searcher) Result {
	best := bestOf(team)
	if r.prover == nil {
		r.prover = newProver(r.p, r.shared, best.topPlan, best.top)
	}
	r.prover.finish()
	// The running sums have rounding in them; the value told is worked out afresh.
	v, err := Evaluate(r.p, best.topPlan)
	if err != nil {
		panic("plan: search left the problem's indices: " + err.Error())
	}
	res := Result{Value: v.Total, Bound: r.prover.bound, Plantings: best.topPlan, Seconds: r.elapsed(),
		Seed: r.o.Seed, Improvements: r.found, Duals: r.prover.best}
	if len(res.Improvements) == 0 {
		res.Improvements = []Improvement{{res.Seconds, res.Value, res.Bound}}
	}
	res.gap()
	return res
}
