package sun

import (
	"strconv"
	"strings"
	"testing"
	"time"
)

// inputs splits "lat=52;J=21" into its parts.
func inputs(t *testing.T, s string) func(string) string {
	t.Helper()
	parts := map[string]string{}
	for _, part := range strings.Split(s, ";") {
		if name, value, ok := strings.Cut(part, "="); ok {
			parts[name] = value
		}
	}
	return func(name string) string {
		t.Helper()
		value, ok := parts[name]
		if !ok {
			t.Fatalf("no %s in %q", name, s)
		}
		return value
	}
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func instant(t *testing.T, s string) time.Time {
	t.Helper()
	v, err := time.Parse("2006-01-02T15:04:05", s)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
