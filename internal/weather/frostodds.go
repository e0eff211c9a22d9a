package weather

import (
	"math"
	"sort"

	"haulm/internal/calendar"
)

// Dates of different years are laid over each other by the day of the month,
// in a season year without a 29 February (which counts as the 28th).
const overlayYear = 2001

// offset is a date's place in its season year, 0 to 364.
func (o *FrostOdds) offset(d calendar.Date) int {
	year := overlayYear
	if o.South && d.Month() < 7 {
		year++
	}
	return int(calendar.MonthDayOf(d).In(year) - calendar.SeasonStart(overlayYear, o.South))
}

// monthDay is the day of the year at a place in the season year.
func (o *FrostOdds) monthDay(offset float64) *calendar.MonthDay {
	d := calendar.MonthDayOf(calendar.SeasonStart(overlayYear, o.South).Add(int(math.Round(offset))))
	return &d
}

// tell turns the years into odds.
func (o *FrostOdds) tell() {
	var spring, autumn, free []float64
	var springs, autumns int
	for _, y := range o.Years {
		if y.SpringKnown {
			springs++
			if y.LastSpring.Known() {
				spring = append(spring, float64(o.offset(y.LastSpring)))
			}
		}
		if y.AutumnKnown {
			autumns++
			if y.FirstAutumn.Known() {
				autumn = append(autumn, float64(o.offset(y.FirstAutumn)))
			}
		}
		if y.FreeDays >= 0 {
			free = append(free, float64(y.FreeDays))
		}
	}
	sort.Float64s(spring)
	sort.Float64s(autumn)
	sort.Float64s(free)
	o.LastSpring = o.quantiles(spring, springs, springs-len(spring))
	o.FirstAutumn = o.quantiles(autumn, autumns, 0)
	o.FreeDays = freeQuantiles(free)
	o.StillToCome = shareFrom(spring, springs)
	o.HasCome = shareBy(autumn, autumns)
}

// quantiles are those of the mixed distribution: in a share q of the years the
// frost comes and its date has the distribution F of those years; in the rest
// there is none. P(date <= d) is q·F(d) for a first frost of autumn, which a
// year without one never reaches; and (1-q) + q·F(d) for a last frost of
// spring, which such a year has behind it from the start: before is then the
// number of those years. (Thom 1959, Monthly Weather Review 87; F by the
// sample quantile of Hyndman & Fan's type 7, not by a normal curve.)
func (o *FrostOdds) quantiles(sorted []float64, years, before int) Quantiles {
	q := Quantiles{Years: years, YearsWithNone: years - len(sorted)}
	if len(sorted) < minFrostYears {
		return q
	}
	at := func(p float64) *calendar.MonthDay {
		f, ok := mixed(p, len(sorted), years, before)
		if !ok {
			return nil
		}
		return o.monthDay(quantile7(sorted, f))
	}
	q.P10, q.P50, q.P90 = at(0.1), at(0.5), at(0.9)
	return q
}

// mixed is the probability within the years that have the frost (with of all)
// which stands for p over all years; before years have it behind them from
// the start. It is not there when p falls among the years without.
func mixed(p float64, with, all, before int) (f float64, ok bool) {
	share := float64(with) / float64(all)
	f = (p - float64(before)/float64(all)) / share
	const dust = 1e-9
	return min(max(f, 0), 1), f >= -dust && f <= 1+dust
}

// quantile7 is the quantile of a sorted sample by linear interpolation between
// order statistics (n-1)p apart: type 7 of Hyndman & Fan (1996).
func quantile7(sorted []float64, p float64) float64 {
	h := p * float64(len(sorted)-1)
	i := min(int(h), len(sorted)-1)
	if i == len(sorted)-1 {
		return sorted[i]
	}
	return sorted[i] + (h-float64(i))*(sorted[i+1]-sorted[i])
}

func freeQuantiles(sorted []float64) DayQuantiles {
	if len(sorted) < minFrostYears {
		return DayQuantiles{-1, -1, -1}
	}
	at := func(p float64) int { return int(math.Round(quantile7(sorted, p))) }
	return DayQuantiles{at(0.1), at(0.5), at(0.9)}
}

// shareFrom is, for each day of the season year, the share of years whose date
// is on or after it; nil without years.
func shareFrom(sorted []float64, years int) []float64 {
	if years == 0 {
		return nil
	}
	odds := make([]float64, 365)
	for d := range odds {
		odds[d] = float64(len(sorted)-sort.SearchFloat64s(sorted, float64(d))) / float64(years)
	}
	return odds
}

// shareBy is the share of years whose date is on or before each day.
func shareBy(sorted []float64, years int) []float64 {
	if years == 0 {
		return nil
	}
	odds := make([]float64, 365)
	for d := range odds {
		odds[d] = float64(sort.SearchFloat64s(sorted, float64(d)+0.5)) / float64(years)
	}
	return odds
}

// FrostChance is the share of years with a night at or below 0 °C in each of
// weeks equal parts of the calendar year (52 for weeks; the last takes the
// days left over). A year counts for a week of which no night is missing; NaN where
// none counts.
func FrostChance(rec *Record, weeks int) []float64 {
	chance := make([]float64, weeks)
	if rec.Days() == 0 {
		return MissingDays(weeks)
	}
	length := 365 / weeks
	for w := range chance {
		var years, frosts float64
		for y := rec.Start.Year(); y <= rec.End().Year(); y++ {
			from := calendar.On(y, 1, 1).Add(w * length)
			to := from.Add(length)
			if w == weeks-1 {
				to = calendar.On(y+1, 1, 1)
			}
			n := nights{rec, 0}
			if n.missing(from, to) > 0 {
				continue
			}
			years++
			if n.any(from, to) {
				frosts++
			}
		}
		chance[w] = frosts / years
	}
	return chance
}

func (n nights) any(from, to calendar.Date) bool {
	for d := from; d < to; d++ {
		if n.at(d) <= n.atC {
			return true
		}
	}
	return false
}
