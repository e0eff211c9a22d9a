package season

import (
	"math"
	"time"
)

// DayDegrees is a day's warmth above a base, °C·day: its mean, not above cap
// (0 = none), less the base, and never below nought. This is the mean method
// in which the published totals of data/flights.csv are counted.
func DayDegrees(minC, maxC, baseC, capC float64) float64 {
	mean := (minC + maxC) / 2
	if capC > 0 {
		mean = math.Min(mean, capC)
	}
	return math.Max(0, mean-baseC)
}

func monthOf(n int) time.Month { return time.Month(n) }
