package weather

import "math"

// variable is one of the things measured, an index into a builder's columns.
type variable int

const (
	tmin variable = iota
	tmax
	rain
	sunshine
	humidity
	wind
	variables
)

// limit is what a day's value can possibly be.
type limit struct {
	name     string
	unit     string
	low, top float64
}

// limits bound each variable. Temperatures: the extremes measured where people
// live are -67.7 °C and 56.7 °C (WMO weather extremes archive); ±60 leaves
// those who garden. Rain: the 24-hour record is 1,825 mm (same archive).
// Radiation: no place on Earth receives more than about 45 MJ/m2/day above the
// air in a day (FAO-56 Table 2.6). Humidity sensors read up to 105 in fog.
var limits = [variables]limit{
	tmin:     {"minimum", "°C", -60, 60},
	tmax:     {"maximum", "°C", -60, 60},
	rain:     {"rain", "mm", 0, 2000},
	sunshine: {"radiation", "MJ/m²", 0, 45},
	humidity: {"humidity", "%", 0, 105},
	wind:     {"wind", "m/s", 0, 60},
}

// possible says whether x can be a day's value; a missing one can.
func (l limit) possible(x float64) bool {
	return math.IsNaN(x) || x >= l.low && x <= l.top
}

// windAt2M brings a wind measured at another height down to 2 m over short
// grass. FAO-56 eq 47; heights in m, above 0.1.
func windAt2M(windMS, heightM float64) float64 {
	if heightM == 2 {
		return windMS
	}
	return windMS * 4.87 / math.Log(67.8*heightM-5.42)
}

// series is the record's slice of a variable, nil where it was never measured.
func (r *Record) series(v variable) []float64 {
	return [variables][]float64{r.TminC, r.TmaxC, r.RainMM, r.SunMJ, r.HumidityPC, r.WindMS}[v]
}

// setSeries puts a variable's slice in its place.
func (r *Record) setSeries(v variable, days []float64) {
	switch v {
	case tmin:
		r.TminC = days
	case tmax:
		r.TmaxC = days
	case rain:
		r.RainMM = days
	case sunshine:
		r.SunMJ = days
	case humidity:
		r.HumidityPC = days
	case wind:
		r.WindMS = days
	}
}
