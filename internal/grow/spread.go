package grow

import (
	"math"
	"slices"

	"haulm/internal/calendar"
)

// Spread is one planting grown through every year that the weather allows:
// the odds.
type Spread struct {
	Courses []Course // in order of year; years cut short by the record's end are left out
	Short   []Course // those years, as far as they went
	Gaps    int      // years left out because the record has gaps in them
}

// Odds are days after the start by which something has happened in 1, 5 and 9
// years of 10. A year in which it never happened counts as later than any
// day; where that many years failed the day is Never.
type Odds struct{ P10, P50, P90 int }

// Never is the day that does not come.
const Never = math.MaxInt32

// Grow runs the track from the same day of every year from first to last
// (calendar years, both included). setOut, where known, is a day of the year
// on or after the start.
func (t *Track) Grow(first, last int, start calendar.MonthDay, setOut *calendar.MonthDay) Spread {
	var spread Spread
	for year := first; year <= last; year++ {
		from := start.In(year)
		if from < t.climate.Start() || from >= t.climate.End() {
			continue
		}
		out := calendar.None
		if setOut != nil {
			out = setOut.In(year)
			if out < from {
				out = setOut.In(year + 1)
			}
		}
		spread.add(t.Course(from, out))
	}
	return spread
}

func (s *Spread) add(c Course) {
	switch {
	case c.Gap:
		s.Gaps++
	case c.RanOut:
		s.Short = append(s.Short, c)
	default:
		s.Courses = append(s.Courses, c)
	}
}

// FirstPick is the odds of the first picking.
func (s Spread) FirstPick() Odds {
	return OddsOf(s.Courses, func(c Course) calendar.Date {
		if c.Failed() {
			return calendar.None
		}
		return c.FirstPick
	})
}

// OddsOf gathers the odds of a stage over courses.
func OddsOf(courses []Course, stage func(Course) calendar.Date) Odds {
	days := make([]float64, 0, len(courses))
	for _, c := range courses {
		if day := stage(c); day.Known() {
			days = append(days, float64(day-c.Start))
		} else {
			days = append(days, math.Inf(1))
		}
	}
	return Odds{dayAt(days, 0.1), dayAt(days, 0.5), dayAt(days, 0.9)}
}

func dayAt(days []float64, share float64) int {
	q := Quantile(days, share)
	if math.IsInf(q, 0) || math.IsNaN(q) {
		return Never
	}
	return int(math.Round(q))
}

// Quantile is the share quantile of values by linear interpolation between
// order statistics (Hyndman & Fan's type 7). Values may be infinite; no values
// give NaN.
func Quantile(values []float64, share float64) float64 {
	if len(values) == 0 {
		return math.NaN()
	}
	sorted := slices.Clone(values)
	slices.Sort(sorted)
	at := share * float64(len(sorted)-1)
	low := int(math.Floor(at))
	high := min(low+1, len(sorted)-1)
	part := at - float64(low)
	if part == 0 || sorted[low] == sorted[high] {
		return sorted[low]
	}
	return sorted[low]*(1-part) + sorted[high]*part
}

// Lost counts the years that gave nothing, and lists what took them.
func (s Spread) Lost() (years int, by map[MishapKind]int) {
	by = map[MishapKind]int{}
	for _, c := range s.Courses {
		if c.Failed() {
			years++
			by[c.Mishap.Kind]++
		}
	}
	return years, by
}
