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

// ShadowAzimuthDeg is where a shadow points, degrees clockwise from north.
func ShadowAzimuthDeg(sunAzimuthDeg float64) float64 { return wrap(sunAzimuthDeg+180, 360) }

// ShadowDepthM is how far from a long straight wall its shadow reaches,
// measured square to the wall, in metres. The wall's line runs along
// wallAzimuthDeg. Infinite when the sun is down.
func ShadowDepthM(heightM, elevationDeg, sunAzimuthDeg, wallAzimuthDeg float64) float64 {
	across := math.Abs(math.Sin(radians(sunAzimuthDeg - wallAzimuthDeg)))
	return ShadowLengthM(heightM, elevationDeg) * across
}
