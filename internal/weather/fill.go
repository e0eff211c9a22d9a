package weather

import (
	"math"
	"time"

	"haulm/internal/calendar"
)

// Rules say how many missing days a month may have and still be mended.
type Rules struct {
	MaxMissing int // in all
	MaxRun     int // one after another
}

// WMORules are those for monthly means of WMO-No. 1203 (2017, WMO Guidelines
// on the Calculation of Climate Normals, from memory): a month with 11 or more
// days missing, or 5 or more in a row, has no mean. Haulm takes them for
// months that are to be grown through (project rule).
func WMORules() Rules { return Rules{MaxMissing: 10, MaxRun: 4} }

// Gaps is what was missing from a record, and what of it could not be mended.
type Gaps struct {
	Years []YearGaps // every season year of the record, in order
}

// YearGaps counts one season year's missing days. Days before a record begins
// and after it ends are not gaps.
type YearGaps struct {
	Year        int
	Days        int // days of this year within the record
	MissingTmin int
	MissingTmax int
	MissingRain int
	LeftOut     bool // a month in it had too many days without a temperature
}

// LeftOut lists the years that have a month with too many gaps.
func (g Gaps) LeftOut() []int {
	var years []int
	for _, y := range g.Years {
		if y.LeftOut {
			years = append(years, y.Year)
		}
	}
	return years
}

// Missing adds up the missing days of all years: minimum, maximum, rain.
func (g Gaps) Missing() (tmin, tmax, rain int) {
	for _, y := range g.Years {
		tmin += y.MissingTmin
		tmax += y.MissingTmax
		rain += y.MissingRain
	}
	return tmin, tmax, rain
}

// Fill mends the gaps of rec and counts them; rec itself stays as it is. A
// missing day becomes the climatology of its day of the year plus what the
// known days before and after it let one expect: the mean of a first-order
// autoregressive run between its two ends, with the record's own persistence,
// so that a gap's middle returns to the climatology.
//
// Temperatures, radiation, humidity and wind of a month that breaks the rules
// stay missing. Rain is mended however long the gap, with that same
// expectation, so that the water balance neither dries out nor floods; where
// no rain was ever measured it stays missing.
func Fill(rec *Record, rules Rules) (*Record, Gaps) {
	out := *rec
	void := make([]bool, rec.Days())
	for v := range Variables {
		days := rec.Series(v)
		if days == nil {
			continue
		}
		broken := voidMonths(rec.Start, days, rules)
		if v == Rain {
			broken = make([]bool, len(days))
		}
		if v == Tmin || v == Tmax {
			orInto(void, broken)
		}
		out.SetSeries(v, mend(rec.Start, days, broken, Limits[v]))
	}
	keepOrder(rec, &out)
	return &out, Gaps{yearGaps(rec, void)}
}

func orInto(a, b []bool) {
	for i := range b {
		a[i] = a[i] || b[i]
	}
}

// voidMonths marks every day of each month that breaks the rules. The days of
// a month that the record does not reach are not missing.
func voidMonths(start calendar.Date, days []float64, rules Rules) []bool {
	void := make([]bool, len(days))
	for a := 0; a < len(days); {
		y, m, _ := start.Add(a).Civil()
		b := min(int(calendar.On(y, m+1, 1)-start), len(days))
		missing, run, longest := 0, 0, 0
		for _, x := range days[a:b] {
			if !math.IsNaN(x) {
				run = 0
				continue
			}
			missing++
			run++
			longest = max(longest, run)
		}
		if missing > rules.MaxMissing || longest > rules.MaxRun {
			for i := a; i < b; i++ {
				void[i] = true
			}
		}
		a = b
	}
	return void
}

// mend fills the missing days that are not void.
func mend(start calendar.Date, days []float64, void []bool, l Limit) []float64 {
	out := append([]float64(nil), days...)
	usual := UsualDays(start, days)
	anomalies := usual.Anomalies(start, days)
	rho := persistence(anomalies)
	for a := 0; a < len(days); {
		if !math.IsNaN(days[a]) {
			a++
			continue
		}
		b := a
		for b < len(days) && math.IsNaN(days[b]) {
			b++
		}
		for i := a; i < b; i++ {
			if !void[i] {
				x := usual[start.Add(i).YearDay()] + bridge(anomalies, a, b, i, rho)
				out[i] = min(max(x, l.Low), l.Top)
			}
		}
		a = b
	}
	return out
}

// bridge is the expected anomaly of day i in a gap from a up to b, given the
// anomalies on either side, of a stationary AR(1) run with persistence rho.
func bridge(anomalies []float64, a, b, i int, rho float64) float64 {
	before, after := math.Pow(rho, float64(i-a+1)), math.Pow(rho, float64(b-i))
	switch {
	case a == 0 && b == len(anomalies):
		return 0
	case a == 0:
		return after * anomalies[b]
	case b == len(anomalies):
		return before * anomalies[a-1]
	}
	whole := 1 - before*before*after*after
	return (before*(1-after*after)*anomalies[a-1] + after*(1-before*before)*anomalies[b]) / whole
}

// keepOrder brings a mended value back to its measured partner where mending
// put the minimum above the maximum.
func keepOrder(rec, out *Record) {
	for i := range out.TminC {
		if out.TminC[i] <= out.TmaxC[i] || math.IsNaN(out.TminC[i]) || math.IsNaN(out.TmaxC[i]) {
			continue
		}
		switch {
		case math.IsNaN(rec.TminC[i]) && math.IsNaN(rec.TmaxC[i]):
			middle := (out.TminC[i] + out.TmaxC[i]) / 2
			out.TminC[i], out.TmaxC[i] = middle, middle
		case math.IsNaN(rec.TminC[i]):
			out.TminC[i] = out.TmaxC[i]
		default:
			out.TmaxC[i] = out.TminC[i]
		}
	}
}

// yearGaps counts what rec is missing, year by year.
func yearGaps(rec *Record, void []bool) []YearGaps {
	south := rec.Site.South()
	var years []YearGaps
	var y *YearGaps
	var next calendar.Date
	for i := range rec.Days() {
		d := rec.Start.Add(i)
		if y == nil || d >= next {
			year := calendar.SeasonYear(d, south)
			next = calendar.SeasonStart(year+1, south)
			years = append(years, YearGaps{Year: year})
			y = &years[len(years)-1]
		}
		y.Days++
		count(&y.MissingTmin, math.IsNaN(rec.TminC[i]))
		count(&y.MissingTmax, math.IsNaN(rec.TmaxC[i]))
		count(&y.MissingRain, math.IsNaN(rec.RainMM[i]))
		y.LeftOut = y.LeftOut || void[i]
	}
	return years
}

// monthOf is the index of d's month, 0 for January.
func monthOf(d calendar.Date) int { return int(d.Month() - time.January) }

func count(n *int, when bool) {
	if when {
		*n++
	}
}
