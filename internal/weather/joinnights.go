package weather

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"haulm/internal/calendar"
)

// Night is one night of one's own thermometer: the lowest temperature of the
// civil day on which the night ended.
type Night struct {
	Date  calendar.Date
	TminC float64
}

// NightFit is what a few nights say of how much colder or warmer the garden is
// than the station on clear nights.
type NightFit struct {
	Offset  // after the nights
	Before  Offset
	Used    []NightUsed
	Unknown []calendar.Date // nights on which the station has no value
}

// NightUsed is one night's reading beside the station's.
type NightUsed struct {
	Night
	StationC float64
	Clarity  float64 // 0 dull to 1 clear; NaN where the station cannot tell
}

// Difference is the night's own offset.
func (n NightUsed) Difference() float64 { return n.TminC - n.StationC }

const (
	maxNights = 400
	// widestC: a garden that differs more from its station than this has been
	// measured wrongly, in the sun or in another unit. Project rule.
	widestC = 15
	// leastClarity is how clear a night must be to say anything of clear nights.
	leastClarity = 0.25
)

// FitNights fits the offset of clear nights from a few of them. What was known
// before (the kind of place: a frost pocket, a wall) is the prior; each night
// weighs by how clear it was, for a dull night says little of clear ones. With
// no clear night the prior stands.
//
// The model: offset of a clear night = garden's mean + night's own departure
// (NightSDC); a night of clarity c shows c times the offset.
func FitNights(nights []Night, station *Record, before Offset, priors JoinPriors) (*NightFit, error) {
	if len(nights) == 0 {
		return nil, errors.New("no night was given; write date and lowest temperature of at least one")
	}
	if len(nights) > maxNights {
		return nil, fmt.Errorf("%d nights are a record: join it to the station's with haulm weather join", len(nights))
	}
	if !(before.Error > 0) {
		return nil, errors.New("the place's offset has no error, so that no night could change it")
	}
	scale := newClearScale(station, priors)
	fit := &NightFit{Before: before}
	weight := 1 / (before.Error * before.Error)
	sum := before.C * weight
	for _, n := range nights {
		i, ok := station.Index(n.Date)
		if !ok || math.IsNaN(station.TminC[i]) {
			fit.Unknown = append(fit.Unknown, n.Date)
			continue
		}
		used := NightUsed{n, station.TminC[i], scale.between(n.Date, station.TmaxC[i], station.TminC[i], n.TminC-before.C)}
		if d := used.Difference(); !(math.Abs(d) <= widestC) {
			return nil, fmt.Errorf("%s: %.1f °C in the garden and %.1f °C at the station cannot both be; check the unit and that the thermometer hangs in the shade", n.Date, n.TminC, used.StationC)
		}
		fit.Used = append(fit.Used, used)
		if c := used.Clarity; c >= leastClarity { // NaN counts as not clear
			w := c * c / (priors.NightSDC * priors.NightSDC)
			weight += w
			sum += w * used.Difference() / c
			fit.Days++
		}
	}
	if len(fit.Used) == 0 {
		return nil, fmt.Errorf("the station's record has no value on any of the %d nights; it runs from %s to %s", len(nights), station.Start, station.End().Add(-1))
	}
	fit.C, fit.Error = sum/weight, math.Sqrt(1/weight)
	return fit, nil
}

// ClearNights says of every day how clear its night was, from 0 to 1, by the
// day's range: under a clear still sky it cools far by night and warms far by
// day. The range is held against those of the same season in the same record:
// up to the ClearLow share of them is dull, from the ClearHigh share on clear,
// and evenly between. NaN where a temperature is missing or the record is too
// short to know its seasons.
func ClearNights(rec *Record, priors JoinPriors) []float64 {
	scale := newClearScale(rec, priors)
	clarity := MissingDays(rec.Days())
	for i := range clarity {
		clarity[i] = scale.of(rec.Start.Add(i), rec.TmaxC[i]-rec.TminC[i])
	}
	return clarity
}

// fewestOfSeason is how many days of a month, all years together, are needed
// to know its usual range. Project rule.
const fewestOfSeason = 20

// clearScale is, by month, the daily range up to which a night counts as dull
// and that from which it counts as clear.
type clearScale struct{ low, high [12]float64 }

func newClearScale(rec *Record, priors JoinPriors) clearScale {
	var byMonth [12][]float64
	for i := range rec.Days() {
		if x := rec.TmaxC[i] - rec.TminC[i]; !math.IsNaN(x) {
			m := monthOf(rec.Start.Add(i))
			byMonth[m] = append(byMonth[m], x)
		}
	}
	var s clearScale
	for m, days := range byMonth {
		s.low[m], s.high[m] = math.NaN(), math.NaN()
		if len(days) < fewestOfSeason {
			continue
		}
		slices.Sort(days)
		low, high := days[int(priors.ClearLow*float64(len(days)-1))], days[int(priors.ClearHigh*float64(len(days)-1))]
		if low < high {
			s.low[m], s.high[m] = low, high
		}
	}
	return s
}

func (s *clearScale) of(d calendar.Date, rangeC float64) float64 {
	m := monthOf(d)
	return min(max((rangeC-s.low[m])/(s.high[m]-s.low[m]), 0), 1)
}

// between is how clear a night was by the minima of two thermometers, the
// known offset taken off the second. Judged by the one alone, nights on which
// it happened to read low would pass for clear, and the other would seem warm
// on clear nights: at eleven pairs of Irish stations by some 0.5 °C.
func (s *clearScale) between(d calendar.Date, tmaxC, oneC, otherC float64) float64 {
	return s.of(d, tmaxC-(oneC+otherC)/2)
}

// ShiftNights is the record with its minima shifted: by the whole offset on
// clear nights, by less the duller they were, and by day's maxima as given.
// Nights whose clarity is unknown take half. No minimum is put above its
// maximum.
func ShiftNights(rec *Record, clearTminC, tmaxC float64, priors JoinPriors, why string) *Record {
	out := *rec
	clarity := ClearNights(rec, priors)
	out.TminC, out.TmaxC = slices.Clone(rec.TminC), slices.Clone(rec.TmaxC)
	for i, c := range clarity {
		if math.IsNaN(c) {
			c = 0.5
		}
		out.TmaxC[i] = round2(rec.TmaxC[i] + tmaxC)
		out.TminC[i] = round2(rec.TminC[i] + c*clearTminC)
		if out.TminC[i] > out.TmaxC[i] {
			out.TminC[i] = out.TmaxC[i]
		}
	}
	out.Source = rec.Source + "; minima shifted by up to " + fmt.Sprintf("%+.1f °C on clear nights: %s", clearTminC, why)
	return &out
}
