package plan

import "context"

// Pair is what is known of two problems of which one, the wider, allows all that
// the other does and values it no lower: with a crop and without it, with more
// hours and with fewer. Values are of plans found, bounds proven.
type Pair struct {
	Wide, Narrow Result

	// Found is by how much the wide problem's plan is the better one. Both plans
	// were found by search, so this is an estimate, never below 0.
	Found float64
	// Low and High are proven limits of the true difference between the two best
	// plans there are.
	Low, High float64
}

// Compare solves two problems, of which the wider must allow every plan that the
// narrower does at no lower value. It goes on from kept, hands each problem's plan
// to the other and takes half of o's time or iterations for the narrow one, so that
// the two are searched alike. ceiling is a limit of the difference known beforehand;
// +Inf where there is none. tell may be nil; it is handed the pair after each step.
// Both problems must have passed Check.
func Compare(ctx context.Context, wide, narrow *Problem, kept []Planting, o Options, ceiling float64, tell func(Pair)) Pair {
	step := func(p *Problem, kept []Planting, share float64) Result {
		part := o
		part.Keep = kept
		part.Seconds *= share
		if o.Iterations > 0 {
			part.Iterations = max(1, int(float64(o.Iterations)*share))
		}
		return Solve(ctx, p, part, nil)
	}
	say := func(pair Pair) Pair {
		pair.limit(ceiling)
		if tell != nil {
			tell(pair)
		}
		return pair
	}
	pair := Pair{Wide: step(wide, kept, compareFirst)}
	pair.Narrow = step(narrow, pair.Wide.Plantings, compareNarrow)
	pair = say(pair)
	// The narrow plan is a plan of the wide problem too, perhaps the better one to
	// go on from; what the narrow search found by looking longer is not the crop's.
	pair.Wide = better(pair.Wide, step(wide, pair.Narrow.Plantings, compareLast))
	if len(Validate(narrow, pair.Wide.Plantings)) == 0 {
		pair.Narrow = orElse(narrow, pair.Narrow, pair.Wide.Plantings)
	}
	return say(pair)
}

// The parts of the time that Compare's three steps take.
const (
	compareFirst  = 0.25
	compareNarrow = 0.5
	compareLast   = 0.25
)

// limit works out what follows from the values and bounds.
func (d *Pair) limit(ceiling float64) {
	d.Narrow.Bound = min(d.Narrow.Bound, d.Wide.Bound)
	d.Wide.gap()
	d.Narrow.gap()
	d.Low = max(0, d.Wide.Value-d.Narrow.Bound)
	d.High = max(d.Low, min(ceiling, d.Wide.Bound-d.Narrow.Value))
	d.Found = min(max(0, d.Wide.Value-d.Narrow.Value), d.High)
}

// gap works Gap out anew.
func (r *Result) gap() { r.Gap = Gap(r.Value, r.Bound) }

// better joins two results of one problem: the better plan, the lower bound with
// its proof.
func better(a, b Result) Result {
	r, other := a, b
	if b.Bound < a.Bound {
		r, other = b, a
	}
	if other.Value > r.Value {
		r.Value, r.Plantings = other.Value, other.Plantings
	}
	r.Seconds = a.Seconds + b.Seconds
	r.gap()
	return r
}

// AnyOf is the pair where the narrow problem is only one of several that would do,
// the one that promised best: the wide problem's bound is then all that is proven of
// them together.
func (d Pair) AnyOf() Pair {
	d.Narrow.Bound = d.Wide.Bound
	d.Narrow.gap()
	d.Low = 0
	return d
}
