package heat

import (
	"strconv"
	"strings"
	"testing"
)

// inputs splits "F: Tmin=36;Tmax=67;upper=None" into its numbers; None is NaN.
func inputs(t *testing.T, s string) func(string) float64 {
	t.Helper()
	parts := map[string]string{}
	for _, part := range strings.Split(strings.TrimPrefix(s, "F: "), ";") {
		if name, value, ok := strings.Cut(part, "="); ok {
			parts[name] = strings.TrimSuffix(value, "F")
		}
	}
	return func(name string) float64 {
		t.Helper()
		value, ok := parts[name]
		if !ok {
			t.Fatalf("no %s in %q", name, s)
		}
		if value == "None" {
			value = "NaN"
		}
		return number(t, value)
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
