package app

import (
	"context"
	"fmt"

	"haulm/internal/plan"
)

// SolveFrom is Solve going on from a plan, which the plan found is no worse than.
func SolveFrom(ctx context.Context, p *plan.Problem, kept []plan.Planting, seconds float64, seed int64, progress func(plan.Progress)) (plan.Result, error) {
	if broken := plan.Validate(p, kept); len(broken) > 0 {
		return plan.Result{}, fmt.Errorf("the plan to keep does not fit the problem: %v", broken[0])
	}
	result := plan.Solve(ctx, p, plan.Options{Seed: seed, Seconds: seconds, Threads: planThreads, Clock: stopwatch, Keep: kept}, progress)
	if broken := plan.Validate(p, result.Plantings); len(broken) > 0 {
		return result, fmt.Errorf("the plan found breaks a rule: %v", broken[0])
	}
	return result, nil
}
