package soil

import "math"

// The radiation figures of FAO-56 with their place in it.
const (
	angstromOvercast = 0.25 // eq 35, a_s
	angstromSun      = 0.50 // eq 35, b_s
	rangeInland      = 0.16 // eq 50, kRs away from the sea; by the shore it is 0.19
	reflected        = 0.23 // eq 38, albedo of the reference grass
	stefanBoltzmann  = 4.903e-9
	kelvin           = 273.16 // eq 39 takes this, eq 6 takes 273
	mmPerMJ          = 0.408  // eq 20, 1/2.45 MJ/kg
)

// SolarFromSunshineMJ is global radiation Rs by hours of sunshine, day length
// and radiation above the air, MJ/m2/day. FAO-56 eq 35.
func SolarFromSunshineMJ(sunshineH, dayLengthH, extraterrestrialMJ float64) float64 {
	if dayLengthH <= 0 {
		return 0
	}
	return (angstromOvercast + angstromSun*sunshineH/dayLengthH) * extraterrestrialMJ
}

// SolarFromRangeMJ is global radiation by the day's range of temperature,
// inland. FAO-56 eq 50, before the cap at the clear sky. NaN where min is above
// max.
func SolarFromRangeMJ(minC, maxC, extraterrestrialMJ float64) float64 {
	return rangeInland * math.Sqrt(maxC-minC) * extraterrestrialMJ
}

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

// EvaporationMM is the water that an amount of heat evaporates. FAO-56 eq 20.
func EvaporationMM(energyMJ float64) float64 { return mmPerMJ * energyMJ }
