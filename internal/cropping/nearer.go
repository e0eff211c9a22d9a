package cropping

import (
	"slices"

	"haulm/internal/plan"
)

// Nearer goes from an old plan towards better ones as far as each step is worth
// what it asks of the person who carries the plan out: Rules.ChangeCost for each
// planting taken out or put in. It starts from the old plan and from every one
// found, steps by the plantings of all of them, and hands back the best it comes
// to. All must fit the layout's problem, and so does what comes back.
func (l *Lay) Nearer(old []plan.Planting, found ...[]plan.Planting) []plan.Planting {
	n := nearer{l: l, old: old}
	for _, p := range append(found, old) {
		for _, one := range p {
			if !slices.Contains(n.pool, one) {
				n.pool = append(n.pool, one)
			}
		}
	}
	best, most := n.climb(old)
	for _, start := range found {
		if end, v := n.climb(start); v > most+1e-9 {
			best, most = end, v
		}
	}
	return best
}

// ChangeCost is what a planting taken out of a plan that is being carried out, or put
// into it, must be worth.
func (l *Lay) ChangeCost() float64 { return l.rules.ChangeCost }

type nearer struct {
	l         *Lay
	old, pool []plan.Planting
}

// climb takes steps while one is worth it.
func (n nearer) climb(from []plan.Planting) ([]plan.Planting, float64) {
	best, at := from, n.worth(from)
	for better := true; better; {
		better = false
		for _, p := range n.pool {
			trial := n.put(best, p)
			if slices.Contains(best, p) {
				trial = n.leaveOut(best, p)
			}
			if trial == nil {
				continue
			}
			if v := n.worth(trial); v > at+1e-9 && len(plan.Validate(n.l.Problem, trial)) == 0 {
				best, at, better = trial, v, true
			}
		}
	}
	return best, at
}

// worth is what a plan is worth, less what its changes ask.
func (n nearer) worth(plantings []plan.Planting) float64 {
	v, err := plan.Evaluate(n.l.Problem, plantings)
	if err != nil {
		return 0
	}
	changes := 0
	for _, p := range plantings {
		if !slices.Contains(n.old, p) {
			changes++
		}
	}
	for _, p := range n.old {
		if !slices.Contains(plantings, p) {
			changes++
		}
	}
	return v.Total - n.l.ChangeCost()*float64(changes)
}

// put is a plan with a planting in place of what is in its way; nil where that
// is fixed.
func (n nearer) put(now []plan.Planting, p plan.Planting) []plan.Planting {
	out := make([]plan.Planting, 0, len(now)+1)
	for _, q := range now {
		if !n.l.inTheWay(p, q) {
			out = append(out, q)
		} else if slices.Contains(n.l.Problem.Fixed, q) {
			return nil
		}
	}
	return append(out, p)
}

// leaveOut is a plan without a planting; nil where that is fixed.
func (n nearer) leaveOut(now []plan.Planting, p plan.Planting) []plan.Planting {
	if slices.Contains(n.l.Problem.Fixed, p) {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(now), func(q plan.Planting) bool { return q == p })
}

// inTheWay says whether two plantings cannot both stand: the same ground at
// the same time, or one family after itself on a strip.
func (l *Lay) inTheWay(p, q plan.Planting) bool {
	if p.Bed != q.Bed || p.Strip >= q.Strip+q.Strips || q.Strip >= p.Strip+p.Strips {
		return false
	}
	a, b := &l.choices[p.Cand].numbers, &l.choices[q.Cand].numbers
	if a.Start < b.End && b.Start < a.End {
		return true
	}
	first, second := &l.Problem.Crops[a.Crop], &l.Problem.Crops[b.Crop]
	return first.Rotate && second.Rotate && first.Family == second.Family
}
