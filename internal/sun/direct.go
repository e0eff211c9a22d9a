package sun

import (
	"math"
	"time"

	"haulm/internal/calendar"
)

// stepMin is the step at which a day's sun is sampled; the middle of each step
// stands for it, so an hour count is good to about ten minutes.
const stepMin = 10

// Point is a place on a level plan of the garden, metres east and north of any
// fixed origin.
type Point struct{ EastM, NorthM float64 }

// Wall is something straight and solid that casts a shade: a wall, a hedge, a
// row of tall plants. HeightM counts from the level of the spot in question.
type Wall struct {
	From, To Point
	HeightM  float64
}

// Horizon is the height of hills, woods or roofs around, in degrees, by
// azimuth clockwise from north. A nil Horizon is flat.
type Horizon func(azimuthDeg float64) float64

// Spot is a point of ground and what stands around it.
type Spot struct {
	Point
	Horizon Horizon
	Walls   []Wall
}

// Sunlit says whether direct sun reaches the spot when the sun stands at an
// apparent elevation and azimuth.
func (s Spot) Sunlit(elevationDeg, azimuthDeg float64) bool {
	if elevationDeg <= 0 {
		return false
	}
	if s.Horizon != nil && elevationDeg <= s.Horizon(azimuthDeg) {
		return false
	}
	for _, w := range s.Walls {
		if w.shades(s.Point, elevationDeg, azimuthDeg) {
			return false
		}
	}
	return true
}

// shades follows the line from p towards the sun over the ground and asks
// whether it meets the wall nearer than the wall's shadow is long.
func (w Wall) shades(p Point, elevationDeg, azimuthDeg float64) bool {
	sunE, sunN := math.Sincos(radians(azimuthDeg))
	wallE, wallN := w.To.EastM-w.From.EastM, w.To.NorthM-w.From.NorthM
	cross := sunE*wallN - sunN*wallE
	if cross == 0 { // the sun shines along the wall
		return false
	}
	fromE, fromN := w.From.EastM-p.EastM, w.From.NorthM-p.NorthM
	distance := (fromE*wallN - fromN*wallE) / cross
	along := (fromE*sunN - fromN*sunE) / cross
	if along < 0 || along > 1 || distance < 0 {
		return false
	}
	return distance < ShadowLengthM(w.HeightM, elevationDeg)
}

// DirectHours is the hours of direct sun that a spot would get on a cloudless
// date, in steps of ten minutes.
func DirectHours(date calendar.Date, latDeg, lonDeg float64, s Spot) float64 {
	start := time.Unix(int64(date)*86400, 0).UTC().Add(minutesOf(-4*lonDeg + stepMin/2.0))
	lit := 0
	for i := range 24 * 60 / stepMin {
		p := At(start.Add(time.Duration(i)*stepMin*time.Minute), latDeg, lonDeg)
		if s.Sunlit(p.ApparentDeg, p.AzimuthDeg) {
			lit++
		}
	}
	return float64(lit) * stepMin / 60
}
