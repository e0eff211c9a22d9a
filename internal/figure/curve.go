package figure

import "math"

// perWeek is how many points a curve has for each week.
const perWeek = 3

// smooth draws weekly values as a curve of perWeek points a week that passes
// through every value at mid-week and never overshoots: Fritsch and Carlson,
// "Monotone piecewise cubic interpolation", SIAM J. Numer. Anal. 17 (1980).
// The first and last point lie on the edges of the axis.
func smooth(weekly []float64) []float64 {
	n := len(weekly)
	if n == 0 {
		return nil
	}
	slope := monotoneSlopes(weekly)
	points := make([]float64, 0, n*perWeek+1)
	for k := 0; k <= n*perWeek; k++ {
		at := float64(k)/perWeek - 0.5
		i := int(math.Floor(at))
		switch {
		case i < 0 || n == 1:
			points = append(points, weekly[0])
		case i >= n-1:
			points = append(points, weekly[n-1])
		default:
			points = append(points, hermite(weekly[i], weekly[i+1], slope[i], slope[i+1], at-float64(i)))
		}
	}
	return points
}

func monotoneSlopes(y []float64) []float64 {
	n := len(y)
	slope := make([]float64, n)
	for i := 1; i < n-1; i++ {
		before, after := y[i]-y[i-1], y[i+1]-y[i]
		if before*after > 0 {
			// The harmonic mean keeps within the limit of three times the
			// lesser step.
			slope[i] = 2 * before * after / (before + after)
		}
	}
	return slope
}

func hermite(a, b, slopeA, slopeB, t float64) float64 {
	t2, t3 := t*t, t*t*t
	return a*(2*t3-3*t2+1) + slopeA*(t3-2*t2+t) + b*(3*t2-2*t3) + slopeB*(t3-t2)
}

// niceStep is a round step that divides most into at most steps parts.
func niceStep(most float64, steps int) float64 {
	if most <= 0 || math.IsInf(most, 0) || math.IsNaN(most) {
		return 1
	}
	rough := most / float64(steps)
	power := math.Pow(10, math.Floor(math.Log10(rough)))
	for _, m := range []float64{1, 2, 2.5, 5, 10} {
		if m*power >= rough-1e-12 {
			return m * power
		}
	}
	return 10 * power
}

// finite is v, or 0 where it is no number; negative values are 0 too.
func finite(v float64) float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
		return 0
	}
	return v
}

// padded is list cut or filled with zeros to n finite values.
func padded(list []float64, n int) []float64 {
	out := make([]float64, n)
	for i := range min(n, len(list)) {
		out[i] = finite(list[i])
	}
	return out
}
