package soil

import "math"

// Litres is the water that a layer of rain or irrigation makes on an area: 1 mm
// on 1 m2 is 1 l. Efficiency is the share that reaches the roots, above 0 to 1.
func Litres(depthMM, areaM2, efficiency float64) float64 { return depthMM * areaM2 / efficiency }

// Cans is how many full cans that takes, rounded up.
func Cans(litres, canLitres float64) int { return int(math.Ceil(litres / canLitres)) }

// PotWaterLitres is what plants can draw from a full pot, by the share of its
// volume held after draining and the share that roots cannot get.
func PotWaterLitres(potLitres, capacity, unavailable float64) float64 {
	return potLitres * (capacity - unavailable)
}

// PotDiameterCM is the width of a pot of so many litres, taken as a cylinder
// as deep as it is wide: V = pi/4 d^3.
func PotDiameterCM(litres float64) float64 {
	const cm3PerLitre = 1000
	return math.Cbrt(litres * cm3PerLitre * 4 / math.Pi)
}

// PotMouthM2 is the open top of such a pot: the soil in it, and what rain falls
// into.
func PotMouthM2(litres float64) float64 {
	d := PotDiameterCM(litres) / 100
	return math.Pi / 4 * d * d
}

// OrganicMulchShare is how much of the bare ground's evaporation is left under
// an organic mulch over a share of the ground: 5 % less for each 10 % covered
// (FAO-56 ch. 11; from memory).
func OrganicMulchShare(cover float64) float64 { return 1 - 0.5*cover }

// RelativeYield is the share of the full crop left when actual
// evapotranspiration over the season falls short of the full one: 1 - Ky(1 -
// ETa/ETm), not below 0. FAO-33 (Doorenbos & Kassam 1979); good to a shortfall
// of about a half.
func RelativeYield(ky, actualMM, fullMM float64) float64 {
	if fullMM <= 0 {
		return 1
	}
	return held(1-ky*(1-actualMM/fullMM), 0, 1)
}
