package soil

import "math"

// The radiation figures of FAO-56 with their place in it.
const (
	angstromOvercast = 0.25 // eq 35, a_s
	angstromSun      = 0.50 // eq 35, b_s
	reflected        = 0.23 // eq 38, albedo of the reference grass
	stefanBoltzmann  = 4.903e-9
	kelvin           = 273.16 // eq 39 takes this, eq 6 takes 273
	mmPerMJ          = 0.408  // eq 20, 1/2.45 MJ/kg
)

// RangeCoefficient is kRs of eq 50, which turns the day's range of temperature
// into sunshine.
type RangeCoefficient float64

// The two settings that FAO-56 gives for kRs.
const (
	Interior RangeCoefficient = 0.16
	Coastal  RangeCoefficient = 0.19
)

// SolarFromSunshineMJ is global radiation Rs by hours of sunshine, day length
// and radiation above the air, MJ/m2/day. FAO-56 eq 35.
func SolarFromSunshineMJ(sunshineH, dayLengthH, extraterrestrialMJ float64) float64 {
	if dayLengthH <= 0 {
		return 0
	}
	return (angstromOvercast + angstromSun*sunshineH/dayLengthH) * extraterrestrialMJ
}

// SolarFromRangeMJ is global radiation by the day's range of temperature.
// FAO-56 eq 50, before the cap at the clear sky. NaN where min is above max.
func SolarFromRangeMJ(minC, maxC float64, k RangeCoefficient, extraterrestrialMJ float64) float64 {
	return float64(k) * math.Sqrt(maxC-minC) * extraterrestrialMJ
}

// SolarOnIslandMJ is global radiation on a small island at low height. FAO-56
// eq 51.
func SolarOnIslandMJ(extraterrestrialMJ float64) float64 { return 0.7*extraterrestrialMJ - 4 }

// ClearSkyMJ is global radiation under a clear sky, Rso. FAO-56 eq 37.
func ClearSkyMJ(elevM, extraterrestrialMJ float64) float64 {
	return (0.75 + 2e-5*elevM) * extraterrestrialMJ
}

// NetShortwaveMJ is what the reference grass keeps of the sun. FAO-56 eq 38.
func NetShortwaveMJ(solarMJ float64) float64 { return (1 - reflected) * solarMJ }

// NetLongwaveMJ is the heat radiated away to the sky. FAO-56 eq 39, with Rs/Rso
// held at 1; in the polar night, where the ratio has no meaning, the sky counts
// as half clouded.
func NetLongwaveMJ(minC, maxC, vapourKPa, solarMJ, clearSkyMJ float64) float64 {
	ratio := math.Min(solarMJ/clearSkyMJ, 1)
	if clearSkyMJ <= 0 {
		ratio = 0.5
	}
	black := stefanBoltzmann * (math.Pow(maxC+kelvin, 4) + math.Pow(minC+kelvin, 4)) / 2
	return black * (0.34 - 0.14*math.Sqrt(vapourKPa)) * (1.35*ratio - 0.35)
}

// NetRadiationMJ is what is left to warm and dry. FAO-56 eq 40.
func NetRadiationMJ(shortwaveMJ, longwaveMJ float64) float64 { return shortwaveMJ - longwaveMJ }

// MonthlyHeatFluxMJ is the heat going into the ground, MJ/m2/day, by the mean
// temperatures of the month before and the month after. FAO-56 eq 43.
func MonthlyHeatFluxMJ(beforeC, afterC float64) float64 { return 0.07 * (afterC - beforeC) }

// MonthlyHeatFluxSoFarMJ is the same where the month after is not known yet.
// FAO-56 eq 44.
func MonthlyHeatFluxSoFarMJ(beforeC, nowC float64) float64 { return 0.14 * (nowC - beforeC) }

// EvaporationMM is the water that an amount of heat evaporates. FAO-56 eq 20.
func EvaporationMM(energyMJ float64) float64 { return mmPerMJ * energyMJ }

// WindAt2M brings a wind speed measured at another height to 2 m over grass,
// m/s. FAO-56 eq 47.
func WindAt2M(windMS, heightM float64) float64 {
	return windMS * 4.87 / math.Log(67.8*heightM-5.42)
}
