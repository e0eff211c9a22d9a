package sun

import (
	"math"
	"time"

	"haulm/internal/calendar"
)

// riseElevationDeg is where the sun's centre stands when its upper rim shows:
// 34' of refraction and 16' of radius below the horizon (almanac convention).
const riseElevationDeg = -0.833

// Light says how the sun behaves on a day.
type Light int

// The kinds of day.
const (
	RisesAndSets Light = iota
	UpAllDay
	DownAllDay
)

// Day is the sun's day at a place. Rise and Set are zero times where the sun
// stays up or down. Times are UTC.
type Day struct {
	Light Light
	Rise  time.Time
	Noon  time.Time
	Set   time.Time
}

// DayAt is the solar day whose noon falls on a civil date as it is counted at
// the place's own longitude, so the sunset west of Greenwich is that date's
// evening and not the one before. Within 5 s of the NREL algorithm away from
// the polar circles, and of a printed almanac to its minute.
func DayAt(date calendar.Date, latDeg, lonDeg float64) Day {
	midnight := time.Unix(int64(date)*86400, 0).UTC()
	meanNoon := midnight.Add(minutesOf(720 - 4*lonDeg))
	noon := meanNoon
	for range 3 {
		noon = meanNoon.Add(-minutesOf(ephemerisAt(julianDay(noon)).equationOfTimeMin()))
	}
	angle, light := riseAngleDeg(noon, latDeg)
	day := Day{Light: light, Noon: noon}
	if light != RisesAndSets {
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
		angle, light := riseAngleDeg(guess, latDeg)
		if light != RisesAndSets {
			return guess
		}
		eot := ephemerisAt(julianDay(guess)).equationOfTimeMin()
		guess = meanNoon.Add(minutesOf(side*4*angle - eot))
	}
	return guess
}

// riseAngleDeg is the hour angle at which the sun crosses the horizon.
func riseAngleDeg(instant time.Time, latDeg float64) (float64, Light) {
	decl := ephemerisAt(julianDay(instant)).declinationRad()
	sinLat, cosLat := math.Sincos(radians(latDeg))
	c := (math.Sin(radians(riseElevationDeg)) - sinLat*math.Sin(decl)) / (cosLat * math.Cos(decl))
	switch {
	case c > 1:
		return 0, DownAllDay
	case c < -1:
		return 180, UpAllDay
	}
	return degrees(math.Acos(c)), RisesAndSets
}

func minutesOf(m float64) time.Duration { return time.Duration(m * float64(time.Minute)) }
