package sun

import "math"

// NoonElevationDeg is the sun's height at true noon for a declination, degrees.
func NoonElevationDeg(latDeg, declinationDeg float64) float64 {
	return 90 - math.Abs(latDeg-declinationDeg)
}

// ShadowLengthM is the length on level ground of the shadow of something
// heightM tall, in metres; infinite when the sun is down.
func ShadowLengthM(heightM, elevationDeg float64) float64 {
	if elevationDeg <= 0 {
		return math.Inf(1)
	}
	return heightM / math.Tan(radians(elevationDeg))
}
