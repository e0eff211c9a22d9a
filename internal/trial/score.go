package trial

import (
	"cmp"
	"math"
	"slices"

	"haulm/internal/calendar"
	"haulm/internal/grow"
)

// Error is one date held against the model's.
type Error struct {
	Days   float64 // simulated minus observed; +Inf where the model says it never comes
	Inside bool    // the observed day lies in the model's 80 % interval
}

// EmergenceError compares emergence; ok is false where none was published or
// the plants were raised indoors.
func (o Outcome) EmergenceError() (e Error, ok bool) {
	if !o.Row.Emerged.Known() || o.Row.SetOut.Known() {
		return e, false
	}
	return compare(o.Up, o.observed(o.Row.Emerged)), true
}

// HarvestError compares the first picking with a harvest that came when the
// crop was ready; ok is false for every other row.
func (o Outcome) HarvestError() (e Error, ok bool) {
	if o.Row.Bound() != Dated {
		return e, false
	}
	return compare(o.Ready, o.observed(o.Row.Harvest())), true
}

func compare(days Days, observed int) Error {
	e := Error{Days: math.Inf(1), Inside: days.Low != grow.Never && days.Low <= observed && observed <= days.High}
	if days.Mid != grow.Never {
		e.Days = float64(days.Mid - observed)
	}
	return e
}

// Kept says whether the model keeps a bound: ready by a harvest that only
// bounds it from above, lost where the crop was lost, or within a published
// range; ok is false for rows that give no bound.
func (o Outcome) Kept() (kept, ok bool) {
	switch o.Row.Bound() {
	case FromOver:
		return o.Ready.Mid != grow.Never && o.Ready.Mid <= o.observed(o.Row.Harvest()), true
	case Killed:
		return o.Lost >= 0.5, true
	case Ranged:
		return o.Row.HarvestDays[0] <= o.Ready.Mid && o.Ready.Mid <= o.Row.HarvestDays[1], true
	}
	return false, false
}

// Doomed says whether the model loses in most years a crop that was harvested.
func (o Outcome) Doomed() bool {
	bound := o.Row.Bound()
	return bound != Unknown && bound != Killed && o.Lost > 0.5
}

// WithinRule says whether a dated error is within a week or 15 % of the days,
// whichever is more.
func (o Outcome) WithinRule(e Error) bool {
	observed := float64(o.observed(o.Row.Harvest()))
	return math.Abs(e.Days) <= math.Max(7, 0.15*observed)
}

// Score is what a set of dates comes to.
type Score struct {
	N         int
	Bias      float64 // median error, days; + is late
	MedianAbs float64 // median absolute error, days
	Inside    int     // dates inside the 80 % interval
}

// ScoreOf gathers errors.
func ScoreOf(errors []Error) Score {
	s := Score{N: len(errors)}
	signed, sizes := make([]float64, 0, s.N), make([]float64, 0, s.N)
	for _, e := range errors {
		signed, sizes = append(signed, e.Days), append(sizes, math.Abs(e.Days))
		if e.Inside {
			s.Inside++
		}
	}
	slices.Sort(signed)
	slices.Sort(sizes)
	s.Bias, s.MedianAbs = median(signed), median(sizes)
	return s
}

func median(sorted []float64) float64 {
	if len(sorted) == 0 {
		return math.NaN()
	}
	return hazen(sorted, 0.5)
}

// InsideShare is the share of dates inside the interval.
func (s Score) InsideShare() float64 { return float64(s.Inside) / math.Max(1, float64(s.N)) }

// Scores of a set of outcomes.
type Scores struct {
	Crop               string // name; "" = all
	Emergence, Harvest Score
	All                Score // both kinds of dates together
	Bounds, Kept       int
	WithinRule         int      // of the dated harvests
	Doomed             []string // rows of crops that were harvested and that the model loses in most years
}

// Scored sums outcomes up, all together and crop by crop in order of name.
func Scored(outcomes []Outcome) (all Scores, byCrop []Scores) {
	crops := map[string][]Outcome{}
	for _, o := range outcomes {
		crops[o.Subject.Crop.Name] = append(crops[o.Subject.Crop.Name], o)
	}
	for name, of := range crops {
		s := scoresOf(of)
		s.Crop = name
		byCrop = append(byCrop, s)
	}
	slices.SortFunc(byCrop, func(a, b Scores) int { return cmp.Compare(a.Crop, b.Crop) })
	return scoresOf(outcomes), byCrop
}

func scoresOf(outcomes []Outcome) Scores {
	var s Scores
	var up, ready []Error
	for _, o := range outcomes {
		if o.Doomed() {
			s.Doomed = append(s.Doomed, o.Row.ID)
		}
		if e, ok := o.EmergenceError(); ok {
			up = append(up, e)
		}
		if e, ok := o.HarvestError(); ok {
			ready = append(ready, e)
			if o.WithinRule(e) {
				s.WithinRule++
			}
		}
		if kept, ok := o.Kept(); ok {
			s.Bounds++
			if kept {
				s.Kept++
			}
		}
	}
	s.Emergence, s.Harvest, s.All = ScoreOf(up), ScoreOf(ready), ScoreOf(slices.Concat(up, ready))
	return s
}

// observed is the row's days from its start to a published date.
func (o Outcome) observed(day calendar.Date) int { return int(day - o.Start) }
