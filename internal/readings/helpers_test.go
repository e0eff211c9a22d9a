package readings

import (
	"math"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/sharedfolder"
	"haulm/internal/weather"
)

// today is a day after every record of the reference folder ends.
var today = calendar.On(2026, 12, 31)

func daily(t testing.TB, name string) string {
	return sharedfolder.Path(t, "data", "weather", "daily", name)
}

// record reads one of the daily records.
func record(t testing.TB, name string) (*weather.Record, *Report) {
	t.Helper()
	rec, report, err := ReadFile(daily(t, name), Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	return rec, report
}

// seasonal is a plain invented climate: warm in July, cold in January.
func seasonal(d calendar.Date) float64 {
	return 5 - 8*math.Cos(2*math.Pi*float64(d.YearDay()-15)/365)
}

func maybe(x float64, keep bool) float64 {
	if keep {
		return x
	}
	return math.NaN()
}
