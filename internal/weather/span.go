package weather

import (
	"math"

	"haulm/internal/calendar"
)

// HasRain says whether any day of the record has rain measured.
func (r *Record) HasRain() bool { return AnyKnown(r.RainMM) }

// Between is the part of the record from from up to, not including, to, as far
// as the record goes. It shares the days with r.
func (r *Record) Between(from, to calendar.Date) *Record {
	a := min(max(int(from-r.Start), 0), r.Days())
	b := min(max(int(to-r.Start), a), r.Days())
	cut := *r
	cut.Start = r.Start.Add(a)
	for v := range Variables {
		if days := r.Series(v); days != nil {
			cut.SetSeries(v, days[a:b])
		}
	}
	return &cut
}

// AnyKnown says whether any day has a value.
func AnyKnown(days []float64) bool {
	for _, x := range days {
		if !math.IsNaN(x) {
			return true
		}
	}
	return false
}

// MissingDays is n days without a value.
func MissingDays(n int) []float64 {
	days := make([]float64, n)
	for i := range days {
		days[i] = math.NaN()
	}
	return days
}
