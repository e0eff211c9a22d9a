package grow

import (
	"math"
	"slices"

	"haulm/internal/calendar"
	"haulm/internal/crop"
)

// PaceBehind is the growth pace by which a planting would have been first
// picked on the day that it was, in the weather it had: the middle of the
// factors that end on that day. ok is false where no pace between a half and
// twice the book's does.
func (t *Track) PaceBehind(start, setOut, firstPick calendar.Date) (factor float64, ok bool) {
	on, okOn := t.paceReaching(start, setOut, firstPick)
	past, okPast := t.paceReaching(start, setOut, firstPick+1)
	return (on + past) / 2, okOn && okPast
}

// paceReaching is the quickest pace whose first picking comes no sooner than
// day.
func (t *Track) paceReaching(start, setOut, day calendar.Date) (factor float64, ok bool) {
	reaches := func(factor float64) bool {
		c := t.Paced(Pace{1, factor}).Course(start, setOut)
		return c.Failed() || c.FirstPick >= day
	}
	quick, slow := quickest, slowest
	if reaches(quick) || !reaches(slow) {
		return 0, false
	}
	for slow-quick > paceStep {
		if middle := (quick + slow) / 2; reaches(middle) {
			slow = middle
		} else {
			quick = middle
		}
	}
	return slow, true
}

// The paces that are looked at, and how finely.
const (
	quickest, slowest = 0.5, 2.0
	paceStep          = 0.001
)

// YieldBehind is the log of a weight against the book's, both of like ground; ok
// is false where there is nothing to compare.
func YieldBehind(bookKg, kg float64) (log float64, ok bool) {
	if bookKg <= 0 || kg <= 0 {
		return 0, false
	}
	return math.Log(kg / bookKg), true
}

// Fifths are the middles of five equal parts of a standard normal distribution.
func Fifths() [5]float64 { return [...]float64{-crop.ZTenth, -0.5244, 0, 0.5244, crop.ZTenth} }

// Scaled is the course with every weight times a factor.
func (c Course) Scaled(factor float64) Course {
	c.KgPerM2 *= factor
	c.Pickings = slices.Clone(c.Pickings)
	for i := range c.Pickings {
		c.Pickings[i].KgPerM2 *= factor
	}
	return c
}
