package weather

import (
	"cmp"
	"errors"
	"fmt"
	"math"

	"haulm/internal/calendar"
)

// Offset is how much warmer (colder where negative) a garden is than a
// station, in °C, with its standard error: two times in three the truth lies
// within C ± Error.
type Offset struct {
	C     float64
	Error float64
	Days  int // measured days that it rests on
}

// JoinFit is what a short record of one's own says about a long station's.
type JoinFit struct {
	Days      int // on which both have a minimum
	TminYear  Offset
	TmaxYear  Offset
	Tmin      [12]Offset // by month, January first
	Tmax      [12]Offset
	ClearTmin Offset // on nights after which the day warmed most, see ClearNights
	DullTmin  Offset
}

// fewestJoinDays is how many days two records must share. Project rule: below
// it the nights fit (FitNights) says all that can be said.
const fewestJoinDays = 14

// FitJoin fits, for minimum and maximum apart, a monthly offset of the garden
// against the station from the days that both measured. A month is drawn
// towards the year's offset by as much as its own days leave in doubt, so that
// a month never measured is the year's offset with a larger error. Days that
// follow one another say little new: each month's error counts only as many
// days as their day-to-day persistence leaves independent.
func FitJoin(own, station *Record, priors JoinPriors) (*JoinFit, error) {
	low, high := differences(own, station, Tmin), differences(own, station, Tmax)
	if low.days < fewestJoinDays || high.days < fewestJoinDays {
		return nil, fmt.Errorf("the two records share %d days with a minimum and %d with a maximum; %d are needed to fit an offset by the month: measure on, or fit the garden's cold nights alone with haulm weather offset",
			low.days, high.days, fewestJoinDays)
	}
	f := &JoinFit{Days: low.days}
	f.TminYear, f.Tmin = low.fit(priors)
	f.TmaxYear, f.Tmax = high.fit(priors)
	f.ClearTmin, f.DullTmin = low.clearAndDull(own, station, priors)
	return f, nil
}

// JoinPriors are what is known of gardens and stations before a day has been
// measured. See data/join_priors.csv for values and sources.
type JoinPriors struct {
	YearSDC   float64 // of the year's offset, from one garden to the next
	MonthSDC  float64 // of a month's offset about the year's
	NightSDC  float64 // of one clear night's offset about the mean of clear nights
	ClearLow  float64 // share of the station's days of the season with a smaller daily range, below which a night counts as dull
	ClearHigh float64 // the same, from which it counts as clear
}

// pairs are the differences own less station on the days that both measured.
type pairs struct {
	days        int
	byMonth     [12][]float64
	variance    float64 // within months
	persistence float64
}

func differences(own, station *Record, v Variable) pairs {
	var p pairs
	a, b := own.Series(v), station.Series(v)
	diff := MissingDays(own.Days())
	for i := range a {
		j, ok := station.Index(own.Start.Add(i))
		if !ok || math.IsNaN(a[i]) || math.IsNaN(b[j]) {
			continue
		}
		diff[i] = a[i] - b[j]
		m := monthOf(own.Start.Add(i))
		p.byMonth[m] = append(p.byMonth[m], diff[i])
		p.days++
	}
	p.within(own.Start, diff)
	return p
}

// within works out how much the days differ about their month's mean, and how
// much of that one day hands to the next.
func (p *pairs) within(start calendar.Date, diff []float64) {
	var means [12]float64
	square, months := 0.0, 0
	for m, days := range p.byMonth {
		means[m] = mean(days)
		for _, x := range days {
			square += (x - means[m]) * (x - means[m])
		}
		if len(days) > 0 {
			months++
		}
	}
	p.variance = square / float64(max(1, p.days-months))
	anomalies := MissingDays(len(diff))
	for i, x := range diff {
		if !math.IsNaN(x) {
			anomalies[i] = x - means[monthOf(start.Add(i))]
		}
	}
	p.persistence = persistence(anomalies)
}

// independent is how many independent days n days in a row are worth, for a
// first-order autoregressive run (von Storch & Zwiers, Statistical Analysis in
// Climate Research, 6.6.8, from memory).
func independent(n int, rho float64) float64 {
	return max(1, float64(n)*(1-rho)/(1+rho))
}

// fit is the two-level normal model: months about a year's offset, days about
// their month's. The year's offset is the precision-weighted mean of the
// months; each month then lies between its own mean and the year's.
func (p *pairs) fit(priors JoinPriors) (year Offset, months [12]Offset) {
	between := priors.MonthSDC * priors.MonthSDC
	var weight, sum float64
	var ofMonth [12]float64 // variance of each month's own mean
	for m, days := range p.byMonth {
		if len(days) == 0 {
			continue
		}
		ofMonth[m] = p.variance / independent(len(days), p.persistence)
		w := 1 / (between + ofMonth[m])
		weight += w
		sum += w * mean(days)
	}
	weight += 1 / (priors.YearSDC * priors.YearSDC) // the prior's mean is no offset
	year = Offset{C: sum / weight, Error: math.Sqrt(1 / weight), Days: p.days}
	for m, days := range p.byMonth {
		if len(days) == 0 {
			months[m] = Offset{C: year.C, Error: math.Sqrt(between + 1/weight)}
			continue
		}
		share := between / (between + ofMonth[m]) // of the month's own mean
		months[m] = Offset{
			C:     share*mean(days) + (1-share)*year.C,
			Error: math.Sqrt(share*ofMonth[m] + (1-share)*(1-share)/weight),
			Days:  len(days),
		}
	}
	return year, months
}

// clearAndDull splits the nights by how clear they were.
func (p *pairs) clearAndDull(own, station *Record, priors JoinPriors) (clear, dull Offset) {
	scale := newClearScale(station, priors)
	var groups [2][]float64
	for i, x := range own.TminC {
		d := own.Start.Add(i)
		j, ok := station.Index(d)
		if !ok || math.IsNaN(x) || math.IsNaN(station.TminC[j]) {
			continue
		}
		usual := mean(p.byMonth[monthOf(d)])
		switch c := scale.between(d, station.TmaxC[j], station.TminC[j], x-usual); {
		case c >= 1:
			groups[0] = append(groups[0], x-station.TminC[j])
		case c <= 0:
			groups[1] = append(groups[1], x-station.TminC[j])
		}
	}
	return plainOffset(groups[0], p.persistence), plainOffset(groups[1], p.persistence)
}

func plainOffset(days []float64, rho float64) Offset {
	if len(days) == 0 {
		return Offset{C: math.NaN(), Error: math.NaN()}
	}
	m := mean(days)
	square := 0.0
	for _, x := range days {
		square += (x - m) * (x - m)
	}
	variance := square / float64(max(1, len(days)-1))
	return Offset{C: m, Error: math.Sqrt(variance / independent(len(days), rho)), Days: len(days)}
}

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(max(1, len(x)))
}

// Join is the station's record shifted to the garden: each day by its month's
// offsets, and the garden's own measurements in place on the days that it has.
// The site is the garden's own where its record gives one. Where shifting puts
// a minimum above its maximum, both become their mean.
func Join(own, station *Record, f *JoinFit) (*Record, error) {
	if own.Days() == 0 || station.Days() == 0 {
		return nil, errors.New("one of the two records has no days")
	}
	start, end := min(own.Start, station.Start), max(own.End(), station.End())
	if int(end-start) > MaxYears*366 {
		return nil, fmt.Errorf("the two records lie more than %d years apart", MaxYears)
	}
	out := *station
	out.Start = start
	out.Name, out.Site = own.Name, station.Site
	if own.Site != (Site{}) {
		out.Site = own.Site
	}
	out.Source = fmt.Sprintf("%s; before and between, %s shifted by %+.1f °C (minimum) and %+.1f °C (maximum) over the year, fitted on %d days that both measured",
		cmp.Or(own.Source, "own thermometer"), cmp.Or(station.Source, station.Name), f.TminYear.C, f.TmaxYear.C, f.Days)
	for v := range Variables {
		days := overlay(start, end, own, station, v, f)
		if v <= Rain || AnyKnown(days) {
			out.SetSeries(v, days)
		} else {
			out.SetSeries(v, nil)
		}
	}
	for i := range out.TminC {
		if out.TminC[i] > out.TmaxC[i] {
			middle := Round1((out.TminC[i] + out.TmaxC[i]) / 2)
			out.TminC[i], out.TmaxC[i] = middle, middle
		}
	}
	return &out, nil
}

// overlay lays one variable of the garden's record over the station's.
func overlay(start, end calendar.Date, own, station *Record, v Variable, f *JoinFit) []float64 {
	days := MissingDays(int(end - start))
	if from := station.Series(v); from != nil {
		for i, x := range from {
			d := station.Start.Add(i)
			days[d-start] = f.shift(v, d, x)
		}
	}
	if from := own.Series(v); from != nil {
		for i, x := range from {
			if !math.IsNaN(x) {
				days[own.Start.Add(i)-start] = x
			}
		}
	}
	return days
}

func (f *JoinFit) shift(v Variable, d calendar.Date, x float64) float64 {
	switch v {
	case Tmin:
		return round2(x + f.Tmin[monthOf(d)].C)
	case Tmax:
		return round2(x + f.Tmax[monthOf(d)].C)
	}
	return x
}

// round2 keeps hundredths: more would be show.
func round2(x float64) float64 { return math.Round(x*100) / 100 }
