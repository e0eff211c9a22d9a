package app

import (
	"fmt"
	"math"

	"haulm/internal/grow"
	"haulm/internal/sun"
	"haulm/internal/trial"
	"haulm/internal/weather"
)

// What a trial without weather is grown through: the monthly means of the
// nearest station of a world climatology (CRU CL 2.0, 1961-1990), shifted for
// height, with the departures from day to day of 30 real years at Dublin,
// widened inland. The middle of many years hangs on them little.
const (
	lapseCPerM  = 0.0065 // standard atmosphere
	scatterPerC = 0.03   // wider departures for a degree more between the warmest and coldest months (from memory)
	maritimeC   = 10.0   // that range at Dublin
	angstromA   = 0.25   // share of the light above the air under an overcast sky, FAO-56 eq. 35
	angstromB   = 0.50
)

// dublin lends its departures.
var dublin = dailyRecord{"Dublin", "IE_dly532_dublin-airport.csv.gz", "", weather.Site{LatDeg: 53.428, LonDeg: -6.241, ElevM: 71}}

// departureDays are those lent: the last 34 years, of which 30 can be begun in.
const departureDays = 34 * 365

func (w *trialWeather) estimate(row trial.Row) (trial.Weather, error) {
	seen, err := w.estimateAt(row.Site)
	if err != nil {
		return seen, fmt.Errorf("%s: %w", row.ID, err)
	}
	return seen, nil
}

func (w *trialWeather) estimateAt(site weather.Site) (trial.Weather, error) {
	if seen, done := w.estimates[site]; done {
		return seen, nil
	}
	near, km := w.nearestNormals(site)
	if near == nil {
		return trial.Weather{}, fmt.Errorf("no weather within 150 km of %g, %g", site.LatDeg, site.LonDeg)
	}
	real, err := w.daily(dublin)
	if err != nil {
		return trial.Weather{}, err
	}
	rec := near.days(real.Between(real.End().Add(-departureDays), real.End()), site)
	w.estimates[site] = trial.Weather{
		Climate: grow.NewClimate(rec, w.rules), Kind: trial.Estimated,
		Words: fmt.Sprintf("normals of %s, %.0f km", near.name, km),
	}
	return w.estimates[site], nil
}

// days are the station's normals with a real record's departures.
func (n *normalsAt) days(real *weather.Record, site weather.Site) *weather.Record {
	scatter := 1 + scatterPerC*math.Max(0, n.rangeC()-maritimeC)
	shiftC := (n.site.ElevM - site.ElevM) * lapseCPerM
	usualMin, usualMax := monthMeans(real, real.TminC), monthMeans(real, real.TmaxC)
	rec := &weather.Record{Name: n.name, Site: site, Estimated: true, Start: real.Start, RainMM: real.RainMM}
	for i := range real.Days() {
		day := real.Start.Add(i).YearDay()
		low := onDay(n.minC, day) + shiftC + scatter*(real.TminC[i]-onDay(usualMin, day))
		high := onDay(n.maxC, day) + shiftC + scatter*(real.TmaxC[i]-onDay(usualMax, day))
		rec.TminC, rec.TmaxC = append(rec.TminC, math.Min(low, high)), append(rec.TmaxC, math.Max(low, high))
		rec.SunMJ = append(rec.SunMJ, (angstromA+angstromB*onDay(n.sunPC, day)/100)*sun.ExtraterrestrialMJ(site.LatDeg, day))
	}
	return rec
}

// monthMeans are a record's means of each month over its years.
func monthMeans(rec *weather.Record, values []float64) (means [12]float64) {
	var counts [12]float64
	for i, x := range values {
		if m := rec.Start.Add(i).Month() - 1; !math.IsNaN(x) {
			means[m] += x
			counts[m]++
		}
	}
	for m := range means {
		means[m] /= counts[m]
	}
	return means
}

// onDay reads monthly means on a day of the year, straight between mid-months.
func onDay(months [12]float64, day int) float64 {
	const month = 365.25 / 12
	at := float64(day)/month - 0.5
	if at < 0 {
		at += 12
	}
	m := int(at) % 12
	part := at - math.Floor(at)
	return months[m]*(1-part) + months[(m+1)%12]*part
}

// rangeC is the difference between the warmest and the coldest month.
func (n *normalsAt) rangeC() float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for m := range n.maxC {
		mean := (n.maxC[m] + n.minC[m]) / 2
		low, high = math.Min(low, mean), math.Max(high, mean)
	}
	return high - low
}

// nearestNormals is the nearest station within 150 km, a difference in height
// counting as distance: 100 m as 10 km.
func (w *trialWeather) nearestNormals(site weather.Site) (*normalsAt, float64) {
	var best *normalsAt
	least, bestKM := 150.0, 0.0
	for i := range w.normals {
		km := kmBetween(w.normals[i].site, site)
		if cost := km + math.Abs(w.normals[i].site.ElevM-site.ElevM)/10; cost < least {
			best, least, bestKM = &w.normals[i], cost, km
		}
	}
	return best, bestKM
}
