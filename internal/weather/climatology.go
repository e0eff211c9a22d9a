package weather

import (
	"math"

	"haulm/internal/calendar"
)

// climatology is what a variable usually is on each day of the year: index 1
// to 366, the mean over all years of the days within a window around it.
type climatology [367]float64

// climatologyWindow is how far the window reaches to either side. 15 days, the
// month around a day, is common practice for daily climatologies.
const climatologyWindow = 15

// newClimatology is NaN throughout where nothing is known. Days of the year
// that no year has measured take a wider window.
func newClimatology(start calendar.Date, days []float64) climatology {
	var sum, n [367]float64
	d := start.YearDay()
	year := start.Year()
	left := daysIn(year) - d
	for _, x := range days {
		if !math.IsNaN(x) {
			sum[d] += x
			n[d]++
		}
		if left--; left < 0 {
			year++
			d, left = 0, daysIn(year)-1
		}
		d++
	}
	var c climatology
	for d := 1; d <= 366; d++ {
		c[d] = windowMean(&sum, &n, d)
	}
	return c
}

func daysIn(year int) int {
	if year%4 == 0 && (year%100 != 0 || year%400 == 0) {
		return 366
	}
	return 365
}

func windowMean(sum, n *[367]float64, day int) float64 {
	for reach := climatologyWindow; reach <= 183; reach *= 2 {
		var s, count float64
		for off := -reach; off <= reach; off++ {
			d := (day-1+off+366)%366 + 1
			s += sum[d]
			count += n[d]
		}
		if count > 0 {
			return s / count
		}
	}
	return math.NaN()
}

// anomalies are the days' departures from c.
func (c *climatology) anomalies(start calendar.Date, days []float64) []float64 {
	out := make([]float64, len(days))
	for i, x := range days {
		out[i] = x - c[start.Add(i).YearDay()]
	}
	return out
}

// persistence is the lag-1 correlation of a run of anomalies, 0 to 0.99, over
// the pairs of days that are both known.
func persistence(anomalies []float64) float64 {
	var xy, xx, yy float64
	for i := 1; i < len(anomalies); i++ {
		x, y := anomalies[i-1], anomalies[i]
		if math.IsNaN(x) || math.IsNaN(y) {
			continue
		}
		xy += x * y
		xx += x * x
		yy += y * y
	}
	if xx*yy <= 0 {
		return 0
	}
	return min(max(xy/math.Sqrt(xx*yy), 0), 0.99)
}
