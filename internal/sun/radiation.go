package sun

import "math"

// SolarConstantMJ is the solar constant of FAO-56, MJ/m2/min.
const SolarConstantMJ = 0.0820

// DistanceFactor is the inverse relative distance Earth-Sun on a day of the
// year (1 to 366). FAO-56 eq 23.
func DistanceFactor(yearDay int) float64 {
	return 1 + 0.033*math.Cos(yearAngle(yearDay))
}

// DeclinationRad is the sun's declination on a day of the year, radians.
// FAO-56 eq 24; within 1.2° of the true one, worst in October.
func DeclinationRad(yearDay int) float64 {
	return 0.409 * math.Sin(yearAngle(yearDay)-1.39)
}

// SunsetAngleRad is the hour angle of sunset, radians: 0 where the sun stays
// down all day, π where it stays up. FAO-56 eq 25, with the cosine clamped
// beyond the polar circles. Refraction and the sun's size are left out.
func SunsetAngleRad(latDeg float64, yearDay int) float64 {
	return sunsetAngle(radians(latDeg), DeclinationRad(yearDay))
}

// DayLengthH is the hours of possible sunshine N, 0 to 24, at a latitude (north
// positive) on a day of the year. FAO-56 eq 34. It is some 0.1 to 0.2 h short
// of the almanac's sunrise to sunset, which counts refraction.
func DayLengthH(latDeg float64, yearDay int) float64 {
	return 24 / math.Pi * SunsetAngleRad(latDeg, yearDay)
}

// ExtraterrestrialMJ is the daily radiation Ra on a level plane above the air,
// MJ/m2/day, at a latitude (north positive) on a day of the year. FAO-56 eq 21.
func ExtraterrestrialMJ(latDeg float64, yearDay int) float64 {
	lat, decl := radians(latDeg), DeclinationRad(yearDay)
	ws := sunsetAngle(lat, decl)
	sinLat, cosLat := math.Sincos(lat)
	sinDecl, cosDecl := math.Sincos(decl)
	ra := 24 * 60 / math.Pi * SolarConstantMJ * DistanceFactor(yearDay) *
		(ws*sinLat*sinDecl + cosLat*cosDecl*math.Sin(ws))
	return math.Max(ra, 0) // rounding at the edge of the polar night
}

// Year holds day length and radiation for each day of a year at one latitude,
// entry 0 being 1 January, 366 entries.
type Year struct {
	DayLengthH         []float64
	ExtraterrestrialMJ []float64
}

// YearAt works out a Year, for models that step through many years.
func YearAt(latDeg float64) Year {
	y := Year{make([]float64, 366), make([]float64, 366)}
	for i := range 366 {
		y.DayLengthH[i] = DayLengthH(latDeg, i+1)
		y.ExtraterrestrialMJ[i] = ExtraterrestrialMJ(latDeg, i+1)
	}
	return y
}

func sunsetAngle(lat, decl float64) float64 {
	c := -math.Tan(lat) * math.Tan(decl)
	return math.Acos(math.Max(-1, math.Min(1, c)))
}

// yearAngle divides by 365 in leap years too, as FAO-56 does; Ra moves by less
// than 0.3 %.
func yearAngle(yearDay int) float64 { return 2 * math.Pi * float64(yearDay) / 365 }

func radians(deg float64) float64 { return deg * math.Pi / 180 }
