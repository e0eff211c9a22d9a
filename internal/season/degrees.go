package season

import (
	"math"

	"haulm/internal/heat"
)

// dayDegrees is a day's warmth above a base, its mean counted no further than
// cap (0 = none): the method in which the published totals of data/flights.csv
// are counted.
func dayDegrees(minC, maxC, baseC, capC float64) float64 {
	if capC <= 0 {
		capC = math.Inf(1)
	}
	return heat.MeanInBand((minC+maxC)/2, baseC, capC)
}
