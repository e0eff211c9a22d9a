package sun

import (
	"math"
	"time"
)

// Position is where the sun stands, degrees unless the name says otherwise.
type Position struct {
	ElevationDeg      float64 // above the true horizon, without refraction
	ApparentDeg       float64 // above the horizon as seen, with refraction
	AzimuthDeg        float64 // clockwise from true north, 0 to 360
	HourAngleDeg      float64 // 0 at true noon, afternoon positive
	DeclinationDeg    float64
	EquationOfTimeMin float64 // sundial minus clock
}

// At is the position of the sun at an instant over a place (north and east
// positive). Meeus, Astronomical Algorithms, ch. 25 low accuracy, as in the
// NOAA solar calculator; within 0.01° from 1950 to 2050.
func At(instant time.Time, latDeg, lonDeg float64) Position {
	utc := instant.UTC()
	e := ephemerisAt(julianDay(utc))
	midnight := time.Date(utc.Year(), utc.Month(), utc.Day(), 0, 0, 0, 0, time.UTC)
	minutes := utc.Sub(midnight).Minutes() + e.equationOfTimeMin() + 4*lonDeg
	return e.seen(latDeg, wrap(minutes/4, 360)-180)
}

// seen places the sun for a latitude and an hour angle.
func (e ephemeris) seen(latDeg, hourAngleDeg float64) Position {
	decl := e.declinationRad()
	sinLat, cosLat := math.Sincos(radians(latDeg))
	sinDecl, cosDecl := math.Sincos(decl)
	sinH, cosH := math.Sincos(radians(hourAngleDeg))
	elevation := degrees(math.Asin(clampUnit(sinLat*sinDecl + cosLat*cosDecl*cosH)))
	azimuth := degrees(math.Atan2(sinH, cosH*sinLat-math.Tan(decl)*cosLat)) + 180
	return Position{
		ElevationDeg:      elevation,
		ApparentDeg:       elevation + RefractionDeg(elevation),
		AzimuthDeg:        wrap(azimuth, 360),
		HourAngleDeg:      hourAngleDeg,
		DeclinationDeg:    degrees(decl),
		EquationOfTimeMin: e.equationOfTimeMin(),
	}
}

// RefractionDeg is how much higher the sun is seen than it stands, degrees, at
// sea level. NOAA's fit in four pieces; 0.01° above 5° of elevation.
func RefractionDeg(elevationDeg float64) float64 {
	h := elevationDeg
	tan := math.Tan(radians(h))
	var arcSec float64
	switch {
	case h > 85:
	case h > 5:
		arcSec = 58.1/tan - 0.07/(tan*tan*tan) + 0.000086/(tan*tan*tan*tan*tan)
	case h > -0.575:
		arcSec = 1735 + h*(-518.2+h*(103.4+h*(-12.79+h*0.711)))
	default:
		arcSec = -20.774 / tan
	}
	return arcSec / 3600
}

// ephemeris is the sun's place among the stars; angles in radians.
type ephemeris struct {
	meanLongitude     float64 // L0
	meanAnomaly       float64 // M
	eccentricity      float64 // e
	trueLongitude     float64
	apparentLongitude float64
	obliquity         float64 // corrected for nutation
	radiusAU          float64
}

// ephemerisAt is Meeus ch. 25 for a Julian day. Universal time is used for
// ephemeris time: the minute between them moves the sun by 0.0008°.
func ephemerisAt(jd float64) ephemeris {
	t := (jd - 2451545) / 36525
	l0 := wrap(280.46646+t*(36000.76983+t*0.0003032), 360)
	m := radians(wrap(357.52911+t*(35999.05029-t*0.0001537), 360))
	ecc := 0.016708634 - t*(0.000042037+t*0.0000001267)
	centre := (1.914602-t*(0.004817+t*0.000014))*math.Sin(m) +
		(0.019993-t*0.000101)*math.Sin(2*m) + 0.000289*math.Sin(3*m)
	node := radians(125.04 - 1934.136*t)
	obliquity := 23 + (26+(21.448-t*(46.815+t*(0.00059-t*0.001813)))/60)/60
	return ephemeris{
		meanLongitude:     radians(l0),
		meanAnomaly:       m,
		eccentricity:      ecc,
		trueLongitude:     radians(l0 + centre),
		apparentLongitude: radians(l0 + centre - 0.00569 - 0.00478*math.Sin(node)),
		obliquity:         radians(obliquity + 0.00256*math.Cos(node)),
		radiusAU:          1.000001018 * (1 - ecc*ecc) / (1 + ecc*math.Cos(m+radians(centre))),
	}
}

func (e ephemeris) declinationRad() float64 {
	return math.Asin(math.Sin(e.obliquity) * math.Sin(e.apparentLongitude))
}

// equationOfTimeMin is Smart's series, Meeus eq 28.3, minutes.
func (e ephemeris) equationOfTimeMin() float64 {
	y := math.Tan(e.obliquity / 2)
	y *= y
	sin2L, cos2L := math.Sincos(2 * e.meanLongitude)
	sinM := math.Sin(e.meanAnomaly)
	rad := y*sin2L - 2*e.eccentricity*sinM + 4*e.eccentricity*y*sinM*cos2L -
		y*y*sin2L*cos2L - 1.25*e.eccentricity*e.eccentricity*math.Sin(2*e.meanAnomaly)
	return 4 * degrees(rad)
}

func julianDay(t time.Time) float64 {
	return float64(t.Unix())/86400 + float64(t.Nanosecond())/86400e9 + 2440587.5
}

func wrap(x, period float64) float64 {
	x = math.Mod(x, period)
	if x < 0 {
		x += period
	}
	return x
}

func clampUnit(x float64) float64 { return math.Max(-1, math.Min(1, x)) }
