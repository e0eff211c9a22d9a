package weather

import (
	"math"

	"haulm/internal/calendar"
)

// FrostOptions say which frosts are asked for.
type FrostOptions struct {
	From, To int     // season years, both included; 0 = as far as the record goes
	AtC      float64 // a night at or below this counts
	South    bool    // season years run July to June
}

// FrostOdds is what a record tells of the last frost of spring and the first
// of autumn. The spring of a season year is its first 7 months, January to
// July (July to January in the south); the autumn is its last 5.
type FrostOdds struct {
	AtC   float64
	South bool

	Years             []FrostYear // every season year that the record touches, in order
	YearsCounted      int         // with spring and autumn both known
	YearsWithoutFrost int         // of those, with no frost in either

	LastSpring  Quantiles // P90: past by this date in 9 years of 10
	FirstAutumn Quantiles // P10: comes by this date in 1 year of 10

	FreeDays DayQuantiles // days without frost between the two

	StillToCome []float64 // by day of the season year: odds of a spring frost on or after it
	HasCome     []float64 // by day of the season year: odds of an autumn frost on or before it
}

// FrostYear is one season year. A date is None where there was no such frost;
// where the half is not known its date means nothing.
type FrostYear struct {
	Year        int
	LastSpring  calendar.Date
	FirstAutumn calendar.Date
	SpringKnown bool
	AutumnKnown bool
	FreeDays    int // days between the two, -1 where one is not known
}

// Quantiles are the dates by which something has come in 1, 5 and 9 years of
// 10, years in which it does not come included. Nil where too few years have
// it, or where it does not come (or is not there to be past) that often.
type Quantiles struct {
	P10, P50, P90 *calendar.MonthDay
	Years         int // years known
	YearsWithNone int // of those, without such a frost
}

// DayQuantiles are numbers of days; -1 where too few years are known.
type DayQuantiles struct{ P10, P50, P90 int }

// minFrostYears is the fewest years with frost from which odds are told:
// below it a 10 % date would be an extreme, not a quantile (project rule).
const minFrostYears = 5

// A half-year is dropped when more than 3 nights are missing within 15 days of
// its frost (project rule, not published), or more than 10 on the days on
// which a later spring frost or an earlier autumn frost could have gone
// unseen: those up to the latest, or from the earliest, of any year (the bound
// of WMO-No. 1203 for a month).
const (
	maxMissingNear  = 3
	nearDays        = 15
	maxMissingStill = 10
)

// Frost reads the odds from rec, which must be as measured: mended nights
// are milder than real ones and would hide frosts.
func Frost(rec *Record, opt FrostOptions) FrostOdds {
	odds := FrostOdds{AtC: opt.AtC, South: opt.South}
	nights := nights{rec, opt.AtC}
	first, last := calendar.SeasonYear(rec.Start, opt.South), calendar.SeasonYear(rec.End()-1, opt.South)
	if opt.From != 0 {
		first = max(first, opt.From)
	}
	if opt.To != 0 {
		last = min(last, opt.To)
	}
	for y := first; y <= last && rec.Days() > 0; y++ {
		odds.Years = append(odds.Years, nights.year(y, opt.South))
	}
	odds.judge(nights)
	odds.tell()
	return odds
}

// nights looks for frosts.
type nights struct {
	rec *Record
	atC float64
}

func (n nights) at(d calendar.Date) float64 {
	i, ok := n.rec.Index(d)
	if !ok {
		return math.NaN()
	}
	return n.rec.TminC[i]
}

// autumnStart is the first day of the autumn half: 1 August, 1 February.
func autumnStart(year int, south bool) calendar.Date {
	if south {
		return calendar.On(year+1, 2, 1)
	}
	return calendar.On(year, 8, 1)
}

func (n nights) year(year int, south bool) FrostYear {
	y := FrostYear{Year: year, LastSpring: calendar.None, FirstAutumn: calendar.None, FreeDays: -1}
	start, turn, end := calendar.SeasonStart(year, south), autumnStart(year, south), calendar.SeasonStart(year+1, south)
	for d := turn - 1; d >= start && !y.LastSpring.Known(); d-- {
		if n.at(d) <= n.atC {
			y.LastSpring = d
		}
	}
	for d := turn; d < end && !y.FirstAutumn.Known(); d++ {
		if n.at(d) <= n.atC {
			y.FirstAutumn = d
		}
	}
	return y
}

// judge decides which halves are known.
func (o *FrostOdds) judge(n nights) {
	latest, earliest := o.extremes()
	for i := range o.Years {
		y := &o.Years[i]
		start, turn, end := calendar.SeasonStart(y.Year, o.South), autumnStart(y.Year, o.South), calendar.SeasonStart(y.Year+1, o.South)
		from, to := start, min(start.Add(latest+1), turn)
		y.SpringKnown = true
		if last := y.LastSpring; last.Known() {
			y.SpringKnown = n.missing(max(start, last-nearDays), min(last+nearDays+1, turn)) <= maxMissingNear
			from = last
		}
		y.SpringKnown = y.SpringKnown && n.missing(from, to) <= maxMissingStill
		from, to = max(start.Add(earliest), turn), end
		y.AutumnKnown = true
		if first := y.FirstAutumn; first.Known() {
			y.AutumnKnown = n.missing(max(turn, first-nearDays), min(first+nearDays+1, end)) <= maxMissingNear
			to = first
		}
		y.AutumnKnown = y.AutumnKnown && n.missing(from, to) <= maxMissingStill
		o.countYear(y, start, end)
	}
}

// extremes are the latest spring and the earliest autumn frost of any year,
// as places in the season year; where no year has one, the whole half counts.
func (o *FrostOdds) extremes() (latest, earliest int) {
	latest, earliest = -1, 366
	for _, y := range o.Years {
		if y.LastSpring.Known() {
			latest = max(latest, o.offset(y.LastSpring))
		}
		if y.FirstAutumn.Known() {
			earliest = min(earliest, o.offset(y.FirstAutumn))
		}
	}
	if latest < 0 {
		latest = 366
	}
	if earliest > 365 {
		earliest = 0
	}
	return latest, earliest
}

func (o *FrostOdds) countYear(y *FrostYear, start, end calendar.Date) {
	if !y.SpringKnown || !y.AutumnKnown {
		return
	}
	o.YearsCounted++
	last, first := start-1, end
	if y.LastSpring.Known() {
		last = y.LastSpring
	}
	if y.FirstAutumn.Known() {
		first = y.FirstAutumn
	}
	count(&o.YearsWithoutFrost, !y.LastSpring.Known() && !y.FirstAutumn.Known())
	y.FreeDays = int(first-last) - 1
}

func (n nights) missing(from, to calendar.Date) int {
	lost := 0
	for d := from; d < to; d++ {
		count(&lost, math.IsNaN(n.at(d)))
	}
	return lost
}
