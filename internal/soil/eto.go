package soil

import (
	"math"

	"haulm/internal/weather"
)

// usualWindMS stands in for a wind nobody measured: the mean of 2000 stations
// by FAO-56 ch. 3.
const usualWindMS = 2.0

// DayWeather is one day as far as it was measured; NaN is what was not. Make
// one with Unmeasured and fill in what there is.
type DayWeather struct {
	YearDay       int // 1 to 366
	MinC, MaxC    float64
	SolarMJ       float64 // global radiation, MJ/m2/day
	SunshineH     float64
	DewC          float64 // dew point
	HumidMinPC    float64 // relative humidity, lowest, highest and mean
	HumidMaxPC    float64
	HumidMeanPC   float64
	WindMS        float64 // at 2 m
	GroundStoreMJ float64 // heat into the ground G; 0 for single days (eq 42)
}

// Unmeasured is a day of which only its place in the year is known.
func Unmeasured(yearDay int) DayWeather {
	nan := math.NaN()
	return DayWeather{yearDay, nan, nan, nan, nan, nan, nan, nan, nan, nan, 0}
}

// Setting is where the day was.
type Setting struct {
	LatDeg float64 // north positive
	ElevM  float64
}

// Method names how a reference evapotranspiration was come by.
type Method string

// The methods, from best to worst.
const (
	PenmanMonteith Method = "Penman–Monteith"                     // all parts measured
	PenmanStandIn  Method = "Penman–Monteith with stand-in parts" // one or two parts by FAO-56's rules
	Hargreaves     Method = "Hargreaves"                          // from temperature alone
	NoMethod       Method = ""                                    // not even temperature
)

// referenceET is the water that well-watered short grass would use, mm/day,
// with the method that the day's measurements allow:
//
//   - Penman–Monteith where radiation (or sunshine), humidity (or dew point)
//     and wind were all measured;
//   - Penman–Monteith with stand-ins where radiation was, or humidity and wind
//     both were: eq 50 for radiation, dew at the minimum for humidity, 2 m/s
//     for wind, as FAO-56 ch. 3 has it;
//   - Hargreaves otherwise; it errs by 0.5 to 0.9 mm/day, high in damp places
//     and low in windy dry ones, so read it over five days or more;
//   - NaN where the temperatures are missing or stand on their heads.
//
// Dew is not counted: the answer is never below zero.
func referenceET(d DayWeather, s Setting, extraterrestrialMJ, dayLengthH float64) (float64, Method) {
	if !(d.MinC <= d.MaxC) {
		return math.NaN(), NoMethod
	}
	light, damp, wind := d.sunKnown(), d.dampKnown(), known(d.WindMS)
	if !light && !(damp && wind) {
		mm := HargreavesMM(d.MinC, d.MaxC, (d.MinC+d.MaxC)/2, extraterrestrialMJ)
		return math.Max(mm, 0), Hargreaves
	}
	method := PenmanStandIn
	if light && damp && wind {
		method = PenmanMonteith
	}
	return math.Max(penmanMonteith(d, s, extraterrestrialMJ, dayLengthH), 0), method
}

// penmanMonteith is eq 6 for a day, with FAO-56's stand-in for every part that
// was not measured, even where that is all but temperature. mm/day.
func penmanMonteith(d DayWeather, s Setting, extraterrestrialMJ, dayLengthH float64) float64 {
	vapour := d.vapourKPa()
	solar := d.solarMJ(s, extraterrestrialMJ, dayLengthH)
	longwave := NetLongwaveMJ(d.MinC, d.MaxC, vapour, solar, ClearSkyMJ(s.ElevM, extraterrestrialMJ))
	wind := d.WindMS
	if !known(wind) {
		wind = usualWindMS
	}
	mean := (d.MinC + d.MaxC) / 2
	return CombinationMM(Combination{
		MeanC:           mean,
		SlopeKPa:        SaturationSlopeKPa(mean),
		PsychrometricK:  PsychrometricKPa(PressureKPa(s.ElevM)),
		NetMJ:           NetRadiationMJ(NetShortwaveMJ(solar), longwave),
		GroundMJ:        d.GroundStoreMJ,
		WindMS:          wind,
		SaturationKPa:   MeanSaturationKPa(d.MinC, d.MaxC),
		ActualVapourKPa: vapour,
	})
}

// Combination is what eq 6 puts together.
type Combination struct {
	MeanC           float64
	SlopeKPa        float64 // Δ, kPa/°C
	PsychrometricK  float64 // γ, kPa/°C
	NetMJ           float64 // Rn, MJ/m2/day
	GroundMJ        float64 // G, MJ/m2/day
	WindMS          float64 // u2
	SaturationKPa   float64 // es
	ActualVapourKPa float64 // ea; above es counts as es
}

// CombinationMM is the FAO Penman–Monteith equation, mm/day. FAO-56 eq 6. It
// can fall below zero on a dewy day.
func CombinationMM(c Combination) float64 {
	deficit := math.Max(c.SaturationKPa-c.ActualVapourKPa, 0)
	radiation := mmPerMJ * c.SlopeKPa * (c.NetMJ - c.GroundMJ)
	air := c.PsychrometricK * 900 / (c.MeanC + 273) * c.WindMS * deficit
	return (radiation + air) / (c.SlopeKPa + c.PsychrometricK*(1+0.34*c.WindMS))
}

// HargreavesMM is reference evapotranspiration from temperature and Ra alone,
// mm/day. FAO-56 eq 52. It falls below zero under a mean of -17.8 °C.
func HargreavesMM(minC, maxC, meanC, extraterrestrialMJ float64) float64 {
	return 0.0023 * (meanC + 17.8) * math.Sqrt(maxC-minC) * EvaporationMM(extraterrestrialMJ)
}

// vapourKPa takes the best humidity there is, in FAO-56's order of preference.
func (d DayWeather) vapourKPa() float64 {
	switch {
	case known(d.DewC):
		return SaturationKPa(d.DewC)
	case known(d.HumidMaxPC) && known(d.HumidMinPC):
		return VapourFromHumiditiesKPa(d.MinC, d.MaxC, d.HumidMinPC, d.HumidMaxPC)
	case known(d.HumidMaxPC):
		return VapourFromMaxHumidityKPa(d.MinC, d.HumidMaxPC)
	case known(d.HumidMeanPC):
		return VapourFromMeanHumidityKPa(d.MinC, d.MaxC, d.HumidMeanPC)
	}
	return VapourFromMinKPa(d.MinC)
}

// solarMJ takes radiation as measured, else by sunshine, else by the range.
func (d DayWeather) solarMJ(s Setting, extraterrestrialMJ, dayLengthH float64) float64 {
	switch {
	case known(d.SolarMJ):
		return d.SolarMJ
	case known(d.SunshineH):
		return SolarFromSunshineMJ(d.SunshineH, dayLengthH, extraterrestrialMJ)
	}
	return math.Min(SolarFromRangeMJ(d.MinC, d.MaxC, extraterrestrialMJ), ClearSkyMJ(s.ElevM, extraterrestrialMJ))
}

func (d DayWeather) sunKnown() bool { return known(d.SolarMJ) || known(d.SunshineH) }

func (d DayWeather) dampKnown() bool {
	return known(d.DewC) || known(d.HumidMaxPC) || known(d.HumidMeanPC)
}

func known(x float64) bool { return !math.IsNaN(x) }

// SettingOf is the setting of a record's station.
func SettingOf(r *weather.Record) Setting {
	return Setting{LatDeg: r.Site.LatDeg, ElevM: r.Site.ElevM}
}
