package plan

import "context"

// Leaning is a plan made for some years rather than others, and what it brings in
// both sorts.
type Leaning struct {
	Result  Result  // value and bound are those of the measure it was made for
	Mean    float64 // its worth in the mean of the years, costs paid
	BadYear float64 // its worth in the worst share of the years, costs paid
}

// Lean makes two plans: the best in the mean of the years, and the best in their
// worst share (the problem's Alpha). Each is at least as good by its own measure as
// the other plan and as the plan kept. o's time or iterations are shared. The
// problem must have passed Check.
func Lean(ctx context.Context, p *Problem, kept []Planting, o Options) (mean, bad Leaning) {
	forMean, forBad := *p, *p
	forMean.Lambda, forBad.Lambda = 0, 1
	o.Keep = kept
	o.Seconds /= 2
	o.Iterations = (o.Iterations + 1) / 2
	mean.Result = Solve(ctx, &forMean, o, nil)
	bad.Result = Solve(ctx, &forBad, o, nil)
	mean.Result = orElse(&forMean, mean.Result, bad.Result.Plantings)
	bad.Result = orElse(&forBad, bad.Result, mean.Result.Plantings)
	mean.Mean, mean.BadYear = bothYears(p, mean.Result.Plantings)
	bad.Mean, bad.BadYear = bothYears(p, bad.Result.Plantings)
	return mean, bad
}

// orElse takes another plan where it is worth more.
func orElse(p *Problem, r Result, other []Planting) Result {
	if v, err := Evaluate(p, other); err == nil && v.Total > r.Value {
		r.Value, r.Plantings = v.Total, other
		r.gap()
	}
	return r
}

// bothYears is a plan's worth in the mean and in the bad years.
func bothYears(p *Problem, plantings []Planting) (mean, bad float64) {
	own := *p
	own.Lambda = 0.5 // else the bad years are not worked out
	v, err := Evaluate(&own, plantings)
	if err != nil {
		panic("plan: search left the problem's indices: " + err.Error())
	}
	costs := v.Table - v.Total
	return v.Mean - costs, v.BadYears - costs
}
