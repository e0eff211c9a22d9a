package weather

import (
	"os"
	"path/filepath"
	"testing"

	"haulm/internal/calendar"
)

// today is a day after every record of the reference folder ends.
var today = calendar.On(2026, 12, 31)

// shared is the path of a file in the reference folder, or skips the test.
func shared(t testing.TB, path ...string) string {
	t.Helper()
	root := os.Getenv("HAULM_SHARED")
	if root == "" {
		root = filepath.Join("..", "..", "..", "shared")
	}
	full := filepath.Join(append([]string{root}, path...)...)
	if _, err := os.Stat(full); err != nil {
		t.Skipf("needs the shared reference folder: %v", err)
	}
	return full
}

func daily(t testing.TB, name string) string {
	return shared(t, "data", "weather", "daily", name)
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
