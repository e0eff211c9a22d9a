package weather

import "math"

// Variable is one of the things that a record may hold of a day.
type Variable int

const (
	Tmin      Variable = iota // °C
	Tmax                      // °C
	Rain                      // mm
	Sunshine                  // global radiation, MJ/m2
	Humidity                  // %
	Wind                      // m/s at 2 m
	Variables                 // how many there are
)

// Limit is what a day's value can possibly be.
type Limit struct {
	Name     string
	Unit     string
	Low, Top float64
}

// Limits bound each variable. Temperatures: the extremes measured where people
// live are -67.7 °C and 56.7 °C (WMO weather extremes archive); ±60 leaves
// those who garden. Rain: the 24-hour record is 1,825 mm (same archive).
// Radiation: no place on Earth receives more than about 45 MJ/m2/day above the
// air in a day (FAO-56 Table 2.6). Humidity sensors read up to 105 in fog.
var Limits = [Variables]Limit{
	Tmin:     {"minimum", "°C", -60, 60},
	Tmax:     {"maximum", "°C", -60, 60},
	Rain:     {"rain", "mm", 0, 2000},
	Sunshine: {"radiation", "MJ/m²", 0, 45},
	Humidity: {"humidity", "%", 0, 105},
	Wind:     {"wind", "m/s", 0, 60},
}

// Possible says whether x can be a day's value; a missing one can.
func (l Limit) Possible(x float64) bool {
	return math.IsNaN(x) || x >= l.Low && x <= l.Top
}

// SynopticWindM is the height, m, at which weather services measure wind
// (WMO-No. 8, Guide to Instruments, part I ch. 5).
const SynopticWindM = 10

// WindAt2M brings a wind measured at another height down to 2 m over short
// grass. FAO-56 eq 47; heights in m, above 0.1.
func WindAt2M(windMS, heightM float64) float64 {
	if heightM == 2 {
		return windMS
	}
	return windMS * 4.87 / math.Log(67.8*heightM-5.42)
}

// Series is the record's slice of a variable, nil where it was never measured.
func (r *Record) Series(v Variable) []float64 {
	return [Variables][]float64{r.TminC, r.TmaxC, r.RainMM, r.SunMJ, r.HumidityPC, r.WindMS}[v]
}

// SetSeries puts a variable's slice in its place.
func (r *Record) SetSeries(v Variable, days []float64) {
	switch v {
	case Tmin:
		r.TminC = days
	case Tmax:
		r.TmaxC = days
	case Rain:
		r.RainMM = days
	case Sunshine:
		r.SunMJ = days
	case Humidity:
		r.HumidityPC = days
	case Wind:
		r.WindMS = days
	}
}

// Round1 takes the binary dust off a value in tenths.
func Round1(x float64) float64 { return math.Round(x*10) / 10 }
