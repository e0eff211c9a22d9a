package readings

import (
	"math"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/weather"
)

// MonthlyCheck is a daily record held against a series of months, over the
// months that both have whole.
type MonthlyCheck struct {
	Months     int // months compared by temperature
	TmaxC      Difference
	TminC      Difference
	FrostDays  Difference
	RainMM     Difference
	Worst      []MonthDifference // the months that differ most in minimum or maximum, worst first
	FirstMonth calendar.Date
	LastMonth  calendar.Date
}

// Difference is record less series: its mean, and the root of its mean square.
// NaN where nothing could be compared.
type Difference struct {
	Months int
	Mean   float64
	RMS    float64
}

// MonthDifference is one month's.
type MonthDifference struct {
	Year         int
	Month        time.Month
	TmaxC, TminC float64
}

// worstMonths is how many months are listed.
const worstMonths = 6

// CheckMonthly compares the record's months with those of the series. A month
// of the record counts where no more than two of its days are missing, the Met
// Office's own rule for its series; rain needs every day.
func CheckMonthly(rec *weather.Record, series *Monthly) MonthlyCheck {
	var c MonthlyCheck
	var high, low, frost, wet tally
	for _, m := range series.Months {
		from := calendar.On(m.Year, m.Month, 1)
		days := rec.Between(from, calendar.On(m.Year, m.Month+1, 1))
		length := int(calendar.On(m.Year, m.Month+1, 1) - from)
		if days.Days() < length {
			continue
		}
		nx, meanMax := known(days.TmaxC)
		nn, meanMin := known(days.TminC)
		if length-nx > missingAllowed || length-nn > missingAllowed {
			continue
		}
		d := MonthDifference{m.Year, m.Month, meanMax - m.TmaxC, meanMin - m.TminC}
		if math.IsNaN(d.TmaxC) && math.IsNaN(d.TminC) {
			continue
		}
		if c.Months++; c.Months == 1 {
			c.FirstMonth = from
		}
		c.LastMonth = from
		high.add(d.TmaxC)
		low.add(d.TminC)
		frost.add(frosts(days.TminC) - m.FrostDays)
		if nr, mean := known(days.RainMM); nr == length {
			wet.add(mean*float64(length) - m.RainMM)
		}
		c.Worst = insertWorst(c.Worst, d)
	}
	c.TmaxC, c.TminC, c.FrostDays, c.RainMM = high.difference(), low.difference(), frost.difference(), wet.difference()
	return c
}

// missingAllowed: "more than 2 days missing in month" is missing in the series.
const missingAllowed = 2

// frosts counts the nights below 0 °C.
func frosts(days []float64) float64 {
	n := 0
	for _, x := range days {
		if x < 0 {
			n++
		}
	}
	return float64(n)
}

type tally struct {
	n           int
	sum, square float64
}

func (t *tally) add(x float64) {
	if !math.IsNaN(x) {
		t.n++
		t.sum += x
		t.square += x * x
	}
}

func (t *tally) difference() Difference {
	if t.n == 0 {
		return Difference{Mean: math.NaN(), RMS: math.NaN()}
	}
	return Difference{t.n, t.sum / float64(t.n), math.Sqrt(t.square / float64(t.n))}
}

// size is the larger of a month's two differences.
func (d MonthDifference) size() float64 {
	size := 0.0
	for _, x := range []float64{d.TmaxC, d.TminC} {
		if !math.IsNaN(x) {
			size = max(size, math.Abs(x))
		}
	}
	return size
}

// insertWorst keeps a short list in order, the worst first.
func insertWorst(list []MonthDifference, d MonthDifference) []MonthDifference {
	i := len(list)
	for i > 0 && list[i-1].size() < d.size() {
		i--
	}
	list = append(list[:i], append([]MonthDifference{d}, list[i:]...)...)
	return list[:min(len(list), worstMonths)]
}
