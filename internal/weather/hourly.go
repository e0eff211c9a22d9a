package weather

import (
	"math"

	"haulm/internal/calendar"
)

// Hourly is a run of hourly weather at one site. The slices have 24 entries a
// civil day from Start on and are equally long: entry h is the hour that ends
// h+1 hours after midnight, its temperature, humidity and wind those at the
// hour's end and its rain that of the hour. NaN is an hour without a value. A
// nil slice means that it was never measured. A day of 23 hours has one
// missing, of a day of 25 the doubled hour counts once.
type Hourly struct {
	Station string
	Name    string
	Site    Site
	Source  string
	Typical []int // the years from which a typical year is stitched; nil for days that have been

	Start      calendar.Date
	TempC      []float64
	HumidityPC []float64
	RainMM     []float64
	WindMS     []float64 // at 2 m
	SunMJ      []float64 // global radiation of the hour, MJ/m2
}

// DayHours is the hours of a day.
const DayHours = 24

// Days is the length in days.
func (h *Hourly) Days() int { return len(h.TempC) / DayHours }

// Day gives the range of entries of day d, and whether they are there.
func (h *Hourly) Day(d calendar.Date) (from, to int, ok bool) {
	i := int(d - h.Start)
	return i * DayHours, (i + 1) * DayHours, i >= 0 && i < h.Days()
}

// fewestHours is how many of a day's 24 hours must be known for the day to
// have a mean, an extreme or a sum. Project rule: with three missing, the
// chance that one of them held the minimum is some 1 in 8.
const fewestHours = 21

// DayValues sums a day up. The extremes of hourly readings lie within those of
// a maximum-and-minimum thermometer.
func (h *Hourly) DayValues(i int) [Variables]float64 {
	from, to := i*DayHours, (i+1)*DayHours
	var day [Variables]float64
	low, high, _ := summary(h.TempC, from, to)
	day[Tmin], day[Tmax] = low, high
	day[Rain] = sumOf(h.RainMM, from, to)
	day[Sunshine] = sumOf(h.SunMJ, from, to)
	_, _, day[Humidity] = summary(h.HumidityPC, from, to)
	_, _, day[Wind] = summary(h.WindMS, from, to)
	return day
}

// summary is the lowest, highest and mean of a day's hours, NaN where too few
// are known.
func summary(hours []float64, from, to int) (low, high, mean float64) {
	if hours == nil {
		return math.NaN(), math.NaN(), math.NaN()
	}
	low, high = math.Inf(1), math.Inf(-1)
	n := 0
	for _, x := range hours[from:to] {
		if !math.IsNaN(x) {
			low, high, mean = min(low, x), max(high, x), mean+x
			n++
		}
	}
	if n < fewestHours {
		return math.NaN(), math.NaN(), math.NaN()
	}
	return low, high, mean / float64(n)
}

// sumOf is a day's sum; missing hours count as the day's mean hour.
func sumOf(hours []float64, from, to int) float64 {
	_, _, mean := summary(hours, from, to)
	return mean * DayHours
}
