package normals

import "haulm/internal/weather"

// Year are the monthly figures from which Generate makes days: means,
// spreads and how one day hangs on the last. Index 0 is January. They hold for
// one place; anything that a place lacks is NaN (see Months).
type Year struct {
	Name   string
	Source string // whose record, which years, which terms
	Site   weather.Site

	Months [12]Month

	// Part of the day-to-day variance is a slow anomaly, the same for the whole
	// day, that fades with SlowDays; it is what makes one May unlike another.
	SlowDays    float64 // e-folding time, days
	SlowTminVar float64 // its share of the variance of Tmin, 0 to 1
	SlowTmaxVar float64 // its share of the variance of Tmax
}

// Month is one month's figures. Spreads and correlations are of the residuals:
// what is left of a day after the season and the wet or dry of it are taken
// off.
type Month struct {
	TminC, TmaxC       float64 // means over all days
	TminWetC, TmaxWetC float64 // how much warmer (-: colder) wet days are than dry ones
	TminSDC, TmaxSDC   float64 // spread of the residuals
	TminLag1, TmaxLag1 float64 // correlation of a residual with the day before
	TminTmax           float64 // correlation of the two residuals of a day

	WetAfterDry float64 // chance of a wet day (at least WetMM) after a dry one
	WetAfterWet float64 // and after a wet one
	WetMeanMM   float64 // mean rain of a wet day
	WetShape    float64 // shape of the gamma distribution of what exceeds WetMM

	ClearDry, ClearWet     float64 // radiation as a share of that above the air, dry and wet days
	ClearDrySD, ClearWetSD float64
	ClearOnTmin            float64 // standardised regression of that share on the two residuals
	ClearOnTmax            float64

	WindMS   float64 // mean at 2 m
	WindSD   float64
	WindLag1 float64

	HumidityPC     float64 // mean relative humidity, %; 0 where it is not known
	HumidityWetPC  float64 // how much damper wet days are than dry ones
	HumiditySD     float64 // spread of the rest
	HumidityLag1   float64
	HumidityOnTmax float64 // standardised regression of the rest on the residual of Tmax
}

// knowsHumidity says whether there are figures of humidity for every month.
func (n *Year) knowsHumidity() bool {
	for _, m := range n.Months {
		if !(m.HumidityPC > 0) {
			return false
		}
	}
	return true
}

// WetMM is the least rain that makes a wet day: 0.2 mm, the rain day of the
// British and Irish services, and the first step above the 0.1 mm of the
// world climatologies.
const WetMM = 0.2

// WetShare is the long-run share of wet days of the two-state chain.
func (m *Month) WetShare() float64 { return wetShare(m.WetAfterDry, m.WetAfterWet) }

func wetShare(afterDry, afterWet float64) float64 { return afterDry / (1 + afterDry - afterWet) }

// monthDays are the lengths of the months of the generator's year, which has
// 366 days; in other years its 29 February is passed over.
var monthDays = [12]int{31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

// yearCurve is a figure's value on each day of a 366-day year.
type yearCurve [366]float64

// smoothYear draws a smooth closed curve through the year whose mean over
// each month is that month's figure: straight lines between mid-months, whose
// corners are moved until the means agree.
func smoothYear(months [12]float64) yearCurve {
	corners := months
	var curve yearCurve
	for range 12 {
		curve = joinCorners(corners)
		for m, mean := range curve.monthMeans() {
			corners[m] += months[m] - mean
		}
	}
	return joinCorners(corners)
}

func joinCorners(corners [12]float64) yearCurve {
	var middle [12]float64
	start := 0
	for m, n := range monthDays {
		middle[m] = float64(start) + float64(n-1)/2
		start += n
	}
	var curve yearCurve
	for d := range curve {
		next := 0
		for next < 12 && middle[next] <= float64(d) {
			next++
		}
		last := (next + 11) % 12
		next %= 12
		width, along := middle[next]-middle[last], float64(d)-middle[last]
		if width <= 0 {
			width += 366
		}
		if along < 0 {
			along += 366
		}
		curve[d] = corners[last] + (corners[next]-corners[last])*along/width
	}
	return curve
}

func (c *yearCurve) monthMeans() [12]float64 {
	var means [12]float64
	d := 0
	for m, n := range monthDays {
		for range n {
			means[m] += c[d] / float64(n)
			d++
		}
	}
	return means
}

// curve is a figure of every month as a smooth year.
func (n *Year) curve(figure func(Month) float64) yearCurve {
	var months [12]float64
	for m := range months {
		months[m] = figure(n.Months[m])
	}
	return smoothYear(months)
}
