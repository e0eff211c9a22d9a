package sun

import (
	"math"
	"time"

	"haulm/internal/calendar"
)

// The almanac's way to the sun, finer than the daily formulas of FAO-56 and
// slower: Meeus's position, true to 0.01°, and from it sunrise and sunset. The
// program has no use for it; the tests hold it to printed almanacs, and the
// daily formulas to it.

// position is where the sun stands, degrees unless the name says otherwise.
type position struct {
	ElevationDeg      float64 // above the true horizon, without refraction
	ApparentDeg       float64 // above the horizon as seen, with refraction
	AzimuthDeg        float64 // clockwise from true north, 0 to 360
	HourAngleDeg      float64 // 0 at true noon, afternoon positive
	DeclinationDeg    float64
	EquationOfTimeMin float64 // sundial minus clock
}

// positionAt is the position of the sun at an instant over a place (north and east
// positive). Meeus, Astronomical Algorithms, ch. 25 low accuracy, as in the
// NOAA solar calculator; within 0.01° from 1950 to 2050.
func positionAt(instant time.Time, latDeg, lonDeg float64) position {
	utc := instant.UTC()
	e := ephemerisAt(julianDay(utc))
	midnight := time.Date(utc.Year(), utc.Month(), utc.Day(), 0, 0, 0, 0, time.UTC)
	minutes := utc.Sub(midnight).Minutes() + e.equationOfTimeMin() + 4*lonDeg
	return e.seen(latDeg, wrap360(minutes/4)-180)
}

// seen places the sun for a latitude and an hour angle.
func (e ephemeris) seen(latDeg, hourAngleDeg float64) position {
	decl := e.declinationRad()
	sinLat, cosLat := math.Sincos(radians(latDeg))
	sinDecl, cosDecl := math.Sincos(decl)
	sinH, cosH := math.Sincos(radians(hourAngleDeg))
	elevation := degrees(math.Asin(clampUnit(sinLat*sinDecl + cosLat*cosDecl*cosH)))
	azimuth := degrees(math.Atan2(sinH, cosH*sinLat-math.Tan(decl)*cosLat)) + 180
	return position{
		ElevationDeg:      elevation,
		ApparentDeg:       elevation + refractionDeg(elevation),
		AzimuthDeg:        wrap360(azimuth),
		HourAngleDeg:      hourAngleDeg,
		DeclinationDeg:    degrees(decl),
		EquationOfTimeMin: e.equationOfTimeMin(),
	}
}

// refractionDeg is how much higher the sun is seen than it stands, degrees, at
// sea level. NOAA's fit in four pieces; 0.01° above 5° of elevation.
func refractionDeg(elevationDeg float64) float64 {
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
	l0 := wrap360(280.46646 + t*(36000.76983+t*0.0003032))
	m := radians(wrap360(357.52911 + t*(35999.05029-t*0.0001537)))
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

func wrap360(x float64) float64 {
	x = math.Mod(x, 360)
	if x < 0 {
		x += 360
	}
	return x
}

func clampUnit(x float64) float64 { return math.Max(-1, math.Min(1, x)) }

// riseElevationDeg is where the sun's centre stands when its upper rim shows:
// 34' of refraction and 16' of radius below the horizon (almanac convention).
const riseElevationDeg = -0.833

// light says how the sun behaves on a day.
type light int

// The kinds of day.
const (
	risesAndSets light = iota
	upAllDay
	downAllDay
)

// solarDay is the sun's day at a place. Rise and Set are zero times where the sun
// stays up or down. Times are UTC.
type solarDay struct {
	Light light
	Rise  time.Time
	Noon  time.Time
	Set   time.Time
}

// dayAt is the solar day whose noon falls on a civil date as it is counted at
// the place's own longitude, so the sunset west of Greenwich is that date's
// evening and not the one before. Within 5 s of the NREL algorithm away from
// the polar circles, and of a printed almanac to its minute.
func dayAt(date calendar.Date, latDeg, lonDeg float64) solarDay {
	midnight := time.Unix(int64(date)*86400, 0).UTC()
	meanNoon := midnight.Add(minutesOf(720 - 4*lonDeg))
	noon := meanNoon
	for range 3 {
		noon = meanNoon.Add(-minutesOf(ephemerisAt(julianDay(noon)).equationOfTimeMin()))
	}
	angle, kind := riseAngleDeg(noon, latDeg)
	day := solarDay{Light: kind, Noon: noon}
	if kind != risesAndSets {
		return day
	}
	day.Rise = crossing(meanNoon, noon.Add(-minutesOf(4*angle)), latDeg, -1)
	day.Set = crossing(meanNoon, noon.Add(minutesOf(4*angle)), latDeg, 1)
	return day
}

// crossing refines the time at which the sun passes the horizon; the sun moves
// along its own path in the hours from noon, so declination is taken anew.
func crossing(meanNoon, guess time.Time, latDeg, side float64) time.Time {
	for range 4 {
		angle, kind := riseAngleDeg(guess, latDeg)
		if kind != risesAndSets {
			return guess
		}
		eot := ephemerisAt(julianDay(guess)).equationOfTimeMin()
		guess = meanNoon.Add(minutesOf(side*4*angle - eot))
	}
	return guess
}

// riseAngleDeg is the hour angle at which the sun crosses the horizon.
func riseAngleDeg(instant time.Time, latDeg float64) (float64, light) {
	decl := ephemerisAt(julianDay(instant)).declinationRad()
	sinLat, cosLat := math.Sincos(radians(latDeg))
	c := (math.Sin(radians(riseElevationDeg)) - sinLat*math.Sin(decl)) / (cosLat * math.Cos(decl))
	switch {
	case c > 1:
		return 0, downAllDay
	case c < -1:
		return 180, upAllDay
	}
	return degrees(math.Acos(c)), risesAndSets
}

func minutesOf(m float64) time.Duration { return time.Duration(m * float64(time.Minute)) }

func degrees(rad float64) float64 { return rad * 180 / math.Pi }
