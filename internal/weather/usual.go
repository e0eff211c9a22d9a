package weather

import (
	"math"

	"haulm/internal/calendar"
)

// Usual is what a variable usually is on each day of the year: index 1
// to 366, the mean over all years of the days within a window around it.
type Usual [367]float64

// usualWindow is how far the window reaches to either side. 15 days, the
// month around a day, is common practice for daily climatologies.
const usualWindow = 15

// UsualDays is NaN throughout where nothing is known. Days of the year
// that no year has measured take a wider window.
func UsualDays(start calendar.Date, days []float64) Usual {
	var sum, n [367]float64
	d := start.YearDay()
	year := start.Year()
	left := calendar.DaysIn(year) - d
	for _, x := range days {
		if !math.IsNaN(x) {
			sum[d] += x
			n[d]++
		}
		if left--; left < 0 {
			year++
			d, left = 0, calendar.DaysIn(year)-1
		}
		d++
	}
	var u Usual
	for d := 1; d <= 366; d++ {
		u[d] = windowMean(&sum, &n, d)
	}
	return u
}

func windowMean(sum, n *[367]float64, day int) float64 {
	for reach := usualWindow; reach <= 183; reach *= 2 {
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

// Anomalies are the days' departures from u.
func (u *Usual) Anomalies(start calendar.Date, days []float64) []float64 {
	out := make([]float64, len(days))
	for i, x := range days {
		out[i] = x - u[start.Add(i).YearDay()]
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
