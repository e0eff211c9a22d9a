package soil

import "math"

// The lengths of the two waves of temperature that run down into the ground.
const (
	YearS = 365.25 * 86400.0
	DayS  = 86400.0
)

// DampingDepthM is the depth at which a wave of temperature has shrunk to 37 %
// of its height at the surface, m, for a thermal diffusivity in m2/s and a
// period in seconds. Diffusivity is 0.2e-6 for dry sand to 0.6e-6 for moist
// loam (from memory).
func DampingDepthM(diffusivityM2S, periodS float64) float64 {
	return math.Sqrt(diffusivityM2S * periodS / math.Pi)
}

// AnnualWave is the year's temperature in the ground as a sine.
type AnnualWave struct {
	MeanC          float64
	AmplitudeC     float64 // at the surface
	RisingDay      float64 // day of the year on which the surface passes the mean
	DiffusivityM2S float64 // m2/s
}

// AtC is the temperature at a depth in m on a day of the year, °C: right for
// the season, blind to the week's weather (±2 to 4 °C near the surface). Van
// Wijk's solution as in Hillel and Campbell (from memory).
func (w AnnualWave) AtC(depthM, yearDay float64) float64 {
	lag := depthM / DampingDepthM(w.DiffusivityM2S, YearS)
	return w.MeanC + w.AmplitudeC*math.Exp(-lag)*math.Sin(2*math.Pi*(yearDay-w.RisingDay)*DayS/YearS-lag)
}

// RunningMeanC is the mean of the last n days up to and with day i, °C: the
// plainest stand-in for the temperature at 10 cm.
func RunningMeanC(series []float64, i, n int) float64 {
	sum := 0.0
	for _, v := range series[i-n+1 : i+1] {
		sum += v
	}
	return sum / float64(n)
}
