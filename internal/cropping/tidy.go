package cropping

import (
	"cmp"
	"slices"

	"haulm/internal/calendar"
	"haulm/internal/plan"
)

// Tidied is a plan made fit for a person to carry out, and what that costs of
// its worth.
type Tidied struct {
	Plantings []plan.Planting
	Worth     float64 // of the plan as it came
	InRows    float64 // of it in whole rows
	EvenCost  float64 // what even steps between successions cost of that
	Left      float64 // what is left is worth in whole rows, without what did not earn its keep
	Recut     int     // plantings made longer or shorter for whole rows
	Moved     int     // plantings moved for even steps
	LeftOut   int     // plantings taken out because they no longer earn their keep
	Shortened int     // rows taken from plantings for the same reason

	// Noon shade of tall crops on their neighbours, m² times weeks: before, and as
	// it is left with the tall crops to the pole side of their beds, which costs
	// nothing.
	ShadeBefore, Shade float64
}

// Loss is the share of its worth that whole rows and even steps cost a plan.
func (t Tidied) Loss() float64 {
	if t.Worth <= 0 {
		return 0
	}
	return (t.Worth - t.InRows + t.EvenCost) / t.Worth
}

// Tidy is the declared last step after a search: lengths are cut to whole rows,
// what then does not earn its keep is left out, successions of a crop begin equally
// many weeks apart where that costs no more than Rules.EvenLossShare of the plan's
// worth, and tall crops go to the pole side of their beds. Fixed plantings stay.
func (l *Lay) Tidy(plantings []plan.Planting) Tidied {
	t := Tidied{Plantings: slices.Clone(plantings)}
	if v, err := plan.Evaluate(l.Problem, plantings); err == nil {
		t.Worth = v.Total
	}
	l.cutToRows(&t, nil)
	t.InRows = l.rowWorth(t.Plantings)
	t.Left = t.InRows
	l.leaveOut(&t)
	for _, series := range l.successions(t.Plantings) {
		l.evenSteps(&t, series)
	}
	l.settleTall(&t)
	return t
}

// settleTall moves tall crops to the pole side. What then stands beside what may
// make another planting superfluous, so that the two take turns until neither has
// anything to do. They come to an end: plantings only ever get fewer or shorter.
func (l *Lay) settleTall(t *Tidied) {
	ordered, before, after := l.tallToPole(t.Plantings)
	stirred := t.Moved > 0 || !slices.Equal(ordered, t.Plantings)
	t.Plantings, t.ShadeBefore, t.Shade = ordered, before, after
	for stirred && l.leaveOut(t) {
		ordered, _, t.Shade = l.tallToPole(t.Plantings)
		stirred = !slices.Equal(ordered, t.Plantings)
		t.Plantings = ordered
	}
}

func (l *Lay) rowLength(p plan.Planting) float64 {
	length, _ := l.rowed(p)
	return length
}

// cutToRows drops the strips that hold no row of their own, and adds a free
// strip where that makes one more row and pays. What was cut before is left.
func (l *Lay) cutToRows(t *Tidied, before []plan.Planting) {
	at := l.rowWorth(t.Plantings)
	for i, p := range t.Plantings {
		if slices.Contains(l.Problem.Fixed, p) || slices.Contains(before, p) || l.rowShare(p) > 1-1e-9 {
			continue
		}
		if cut := l.withoutBareEnd(p); cut != p {
			t.Plantings[i] = cut
			t.Recut++
			at = l.rowWorth(t.Plantings)
		} else if l.lengthen(t, i, &at) {
			t.Recut++
		}
	}
}

// withoutBareEnd is a planting without the strips at its end that hold no row of
// their own.
func (l *Lay) withoutBareEnd(p plan.Planting) plan.Planting {
	least := max(1, l.choices[p.Cand].numbers.MinStrips)
	cut := p
	for shorter := p; shorter.Strips > least; cut = shorter {
		if shorter.Strips--; l.rowLength(shorter) < l.rowLength(p) {
			break
		}
	}
	return cut
}

// lengthen adds a free strip at either end of a planting where that makes one
// more row and pays.
func (l *Lay) lengthen(t *Tidied, i int, at *float64) bool {
	p := t.Plantings[i]
	for _, strip := range []int{p.Strip, p.Strip - 1} {
		longer := plan.Planting{Cand: p.Cand, Bed: p.Bed, Strip: strip, Strips: p.Strips + 1}
		if longer.Strip < 0 || longer.Strip+longer.Strips > l.beds[p.Bed].numbers.Len || l.rowShare(longer) <= l.rowShare(p) {
			continue
		}
		t.Plantings[i] = longer
		if worth := l.rowWorth(t.Plantings); worth > *at && len(plan.Validate(l.Problem, t.Plantings)) == 0 {
			*at = worth
			return true
		}
	}
	t.Plantings[i] = p
	return false
}

// Successions: at least fewestSteps plantings of one crop raised one way, begun
// in different weeks that lie no further apart than longestStep.
const (
	fewestSteps = 3
	longestStep = 8 // weeks; a longer pause parts the spring's sowings from the autumn's
)

// successions are the indices of the plantings of each succession, by week.
func (l *Lay) successions(plantings []plan.Planting) [][]int {
	order := make([]int, len(plantings))
	for i := range order {
		order[i] = i
	}
	c := func(i int) *choice { return &l.choices[plantings[i].Cand] }
	name := func(i int) string { return c(i).crop.Key + " " + c(i).class + " " + c(i).route.Key }
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(name(a), name(b)), cmp.Compare(c(a).sowWeek, c(b).sowWeek))
	})
	var out [][]int
	for from := 0; from < len(order); {
		to := from + 1
		for to < len(order) && name(order[to]) == name(order[from]) && c(order[to]).sowWeek-c(order[to-1]).sowWeek <= longestStep {
			to++
		}
		if len(l.starts(plantings, order[from:to])) >= fewestSteps {
			out = append(out, order[from:to])
		}
		from = to
	}
	return out
}

// starts are the different weeks in which some plantings are begun, in order.
func (l *Lay) starts(plantings []plan.Planting, some []int) []int {
	var weeks []int
	for _, i := range some {
		weeks = append(weeks, l.choices[plantings[i].Cand].sowWeek)
	}
	slices.Sort(weeks)
	return slices.Compact(weeks)
}

// evenSteps moves a succession to the evenly spaced weeks that cost least, if
// that is little enough.
func (l *Lay) evenSteps(t *Tidied, series []int) {
	weeks := l.starts(t.Plantings, series)
	if even(weeks) {
		return
	}
	n := len(weeks) - 1
	var best []plan.Planting
	most, moved := t.Left-l.rules.EvenLossShare*t.Worth, 0
	for step := max(1, (weeks[n]-weeks[0])/n); step <= (weeks[n]-weeks[0])/n+1; step++ {
		for first := weeks[0] - 1; first <= weeks[0]+1; first++ {
			trial, count := l.moved(t.Plantings, series, weeks, first, step)
			if trial == nil || len(plan.Validate(l.Problem, trial)) > 0 {
				continue
			}
			if v := l.rowWorth(trial); v >= most {
				best, most, moved = trial, v, count
			}
		}
	}
	if best != nil {
		t.EvenCost += t.Left - most
		t.Plantings, t.Left, t.Moved = best, most, t.Moved+moved
	}
}

func even(weeks []int) bool {
	for i := 2; i < len(weeks); i++ {
		if weeks[i]-weeks[i-1] != weeks[1]-weeks[0] {
			return false
		}
	}
	return true
}

// moved is the plan with the succession begun in weeks first, first+step, …;
// nil where one of them is not offered then, or is fixed.
func (l *Lay) moved(plantings []plan.Planting, series, weeks []int, first, step int) ([]plan.Planting, int) {
	out, count := slices.Clone(plantings), 0
	for _, i := range series {
		c := &l.choices[plantings[i].Cand]
		k, _ := slices.BinarySearch(weeks, c.sowWeek)
		want := first + k*step
		if want == c.sowWeek {
			continue
		}
		if slices.Contains(l.Problem.Fixed, plantings[i]) {
			return nil, 0
		}
		cand := l.offered(c, want)
		if cand < 0 {
			return nil, 0
		}
		out[i].Cand = cand
		count++
	}
	return out, count
}

// offered is the same choice begun in another week, -1 where there is none.
func (l *Lay) offered(c *choice, week int) int {
	for i := range l.choices {
		o := &l.choices[i]
		if o.sowWeek == week && o.crop == c.crop && o.class == c.class && o.route == c.route && o.kind == c.kind && !o.cut && !o.moved {
			return i
		}
	}
	return -1
}

// BegunBefore are those of some plantings that are begun before a day.
func (l *Lay) BegunBefore(plantings []plan.Planting, day calendar.Date) []plan.Planting {
	var out []plan.Planting
	for _, p := range plantings {
		if l.Monday(l.choices[p.Cand].sowWeek) < day {
			out = append(out, p)
		}
	}
	return out
}
