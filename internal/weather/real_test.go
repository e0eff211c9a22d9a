package weather_test

import (
	"math"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/readings"
	"haulm/internal/sharedfolder"
	"haulm/internal/weather"
)

// today is a day after every record of the reference folder ends.
var today = calendar.On(2026, 12, 31)

func daily(t testing.TB, name string) string {
	return sharedfolder.Path(t, "data", "weather", "daily", name)
}

// record reads one of the daily records.
func record(t testing.TB, name string) *weather.Record {
	t.Helper()
	rec, _, err := readings.ReadFile(daily(t, name), readings.Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	return rec
}

func meanSD(x []float64) (mean, sd float64) {
	for _, v := range x {
		mean += v / float64(len(x))
	}
	for _, v := range x {
		sd += (v - mean) * (v - mean) / float64(len(x)-1)
	}
	return mean, math.Sqrt(sd)
}
