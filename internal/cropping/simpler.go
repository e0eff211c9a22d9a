package cropping

import (
	"cmp"
	"slices"

	"haulm/internal/plan"
)

// Worth is what a plan is worth, counted both ways.
type Worth struct {
	Strips float64 // by the planner's own count, bare ends of strips included: its bound is held against that
	Rows   float64 // in whole rows: what is told of the table goes by that
}

// WorthOf counts a plan both ways.
func (l *Lay) WorthOf(plantings []plan.Planting) Worth {
	w := Worth{Rows: l.rowWorth(plantings)}
	if v, err := plan.Evaluate(l.Problem, plantings); err == nil {
		w.Strips = v.Total
	}
	return w
}

// Loss is the share of its worth that a plan loses by becoming another: the
// larger of the two counts, so that nothing is called a gain that costs by
// either. Below 0 it is a gain by both.
func (w Worth) Loss(then Worth) float64 {
	if w.Strips <= 0 || w.Rows <= 0 {
		return 0
	}
	return max((w.Strips-then.Strips)/w.Strips, (w.Rows-then.Rows)/w.Rows)
}

// betterThan says whether a plan gains in whole rows and loses nothing in strips.
func (w Worth) betterThan(was Worth) bool {
	return w.Rows > was.Rows+leastGain && w.Strips > was.Strips-leastGain
}

// leastGain is what a step must gain to be more than rounding.
const leastGain = 1e-9

// Simpler is a plan with fewer plantings.
type Simpler struct {
	Plantings []plan.Planting
	Worth     Worth
}

// Simplify takes plantings out of a plan one at a time, as plan.Simplify does,
// and cuts what has spread over their ground to whole rows again: steps[k] has
// k+1 plantings fewer. Fixed plantings stay.
func (l *Lay) Simplify(plantings []plan.Planting, fewer int) []Simpler {
	cands, problem := l.alone(plantings)
	own := renumbered(plantings, cands)
	var out []Simpler
	for _, step := range plan.Simplify(problem, own, fewer) {
		t := Tidied{Plantings: slices.Clone(step.Plantings)}
		for i := range t.Plantings {
			t.Plantings[i].Cand = cands[t.Plantings[i].Cand]
		}
		l.cutToRows(&t, plantings)
		out = append(out, Simpler{t.Plantings, l.WorthOf(t.Plantings)})
	}
	return out
}

// alone is the problem with no candidates but those of some plantings, and which
// of the layout's they are. Their order is that of their names and weeks, so that a
// plan told again over a layout without any others is simplified alike.
func (l *Lay) alone(plantings []plan.Planting) (cands []int, problem *plan.Problem) {
	for _, p := range slices.Concat(plantings, l.Problem.Fixed) {
		if !slices.Contains(cands, p.Cand) {
			cands = append(cands, p.Cand)
		}
	}
	slices.SortFunc(cands, func(i, j int) int {
		a, b := &l.choices[i], &l.choices[j]
		return cmp.Or(cmp.Compare(a.crop.Key, b.crop.Key), cmp.Compare(a.class, b.class), cmp.Compare(a.route.Key, b.route.Key),
			cmp.Compare(a.kind, b.kind), cmp.Compare(a.sowWeek, b.sowWeek), cmp.Compare(a.outWeek, b.outWeek), cmp.Compare(a.until, b.until), cmp.Compare(i, j))
	})
	own := *l.Problem
	own.Cands = make([]plan.Candidate, len(cands))
	for i, c := range cands {
		own.Cands[i] = l.Problem.Cands[c]
	}
	own.Fixed = renumbered(l.Problem.Fixed, cands)
	return cands, &own
}

// renumbered are plantings by the place of their candidates in a list.
func renumbered(plantings []plan.Planting, cands []int) []plan.Planting {
	out := slices.Clone(plantings)
	for i := range out {
		out[i].Cand = slices.Index(cands, out[i].Cand)
	}
	return out
}

// Holding is the layout with more plantings that stay where they are.
func (l *Lay) Holding(plantings []plan.Planting) *Lay {
	out, problem := *l, *l.Problem
	problem.Fixed = slices.Clone(problem.Fixed)
	for _, p := range plantings {
		if !slices.Contains(problem.Fixed, p) {
			problem.Fixed = append(problem.Fixed, p)
		}
	}
	out.Problem = &problem
	return &out
}

// leaveOutAhead is how many plantings fewer are looked at before a plan is taken
// to be as simple as pays: one less may cost a little, and two less gain.
const leaveOutAhead = 10

// leaveOut takes out what does not earn its keep: in whole rows a planting may
// bring less than the bother of it, or its last row less than its seed and work.
// It goes on while the plan is worth more for it; false if nothing goes.
func (l *Lay) leaveOut(t *Tidied) bool {
	was, at := t.LeftOut+t.Shortened, l.WorthOf(t.Plantings)
	for better := true; better; {
		better = l.takeOut(t, &at) || l.shorten(t, &at)
	}
	t.Left = at.Rows
	return t.LeftOut+t.Shortened > was
}

// takeOut goes to the best plan with a few plantings fewer; false if none is better.
func (l *Lay) takeOut(t *Tidied, at *Worth) bool {
	var best *Simpler
	for _, s := range l.Simplify(t.Plantings, leaveOutAhead) {
		if s.Worth.betterThan(*at) && (best == nil || s.Worth.Rows > best.Worth.Rows) {
			best = &s
		}
	}
	if best == nil {
		return false
	}
	t.LeftOut += len(t.Plantings) - len(best.Plantings)
	t.Plantings, *at = best.Plantings, best.Worth
	return true
}

// shorten takes rows from the ends of plantings where that pays; false if it
// pays nowhere.
func (l *Lay) shorten(t *Tidied, at *Worth) bool {
	already := t.Shortened
	for i := range t.Plantings {
		for l.shortenOne(t, i, at) {
			t.Shortened++
		}
	}
	return t.Shortened > already
}

// shortenOne takes one row from either end of a planting if that pays.
func (l *Lay) shortenOne(t *Tidied, i int, at *Worth) bool {
	was := t.Plantings[i]
	strips := l.oneRowLess(was)
	if strips == 0 || slices.Contains(l.Problem.Fixed, was) {
		return false
	}
	for _, strip := range []int{was.Strip, was.Strip + was.Strips - strips} {
		t.Plantings[i] = plan.Planting{Cand: was.Cand, Bed: was.Bed, Strip: strip, Strips: strips}
		if l.rowWorth(t.Plantings) <= at.Rows { // most are no better; their strips need not be counted
			continue
		}
		if w := l.WorthOf(t.Plantings); w.betterThan(*at) {
			*at = w
			return true
		}
	}
	t.Plantings[i] = was
	return false
}

// oneRowLess is the number of strips on which a planting holds at least a row
// less; 0 where it cannot be so short.
func (l *Lay) oneRowLess(p plan.Planting) int {
	shorter := p
	for shorter.Strips--; shorter.Strips >= max(1, l.choices[p.Cand].numbers.MinStrips); shorter.Strips-- {
		if l.rowLength(shorter) < l.rowLength(p) {
			return shorter.Strips
		}
	}
	return 0
}
