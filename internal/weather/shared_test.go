package weather

import (
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/sharedfolder"
)

// today is a day after every record of the reference folder ends.
var today = calendar.On(2026, 12, 31)

func daily(t testing.TB, name string) string {
	return sharedfolder.Path(t, "data", "weather", "daily", name)
}

// record reads one of the daily records.
func record(t testing.TB, name string) (*Record, *Report) {
	t.Helper()
	rec, report, err := ReadFile(daily(t, name), Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	return rec, report
}
