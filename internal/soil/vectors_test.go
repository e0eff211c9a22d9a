package soil

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// firstNumber finds the number at the head of "196 (mid-July)" or "10 kPa".
var firstNumber = regexp.MustCompile(`^-?[0-9]*\.?[0-9]+(e-?[0-9]+)?`)

// inputs reads the numbers out of "Tmax=26.6;J=196 (mid-July)", which may be
// split by semicolons or commas; a name that is not there is NaN.
func inputs(s string) func(string) float64 {
	parts := map[string]float64{}
	for _, part := range strings.FieldsFunc(s, func(r rune) bool { return r == ';' || r == ',' || r == ':' }) {
		name, value, ok := strings.Cut(strings.TrimSpace(part), "=")
		if v, err := strconv.ParseFloat(firstNumber.FindString(value), 64); ok && err == nil {
			parts[name] = v
		}
	}
	return func(name string) float64 {
		if v, ok := parts[name]; ok {
			return v
		}
		return math.NaN()
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

func numbers(t *testing.T, s string) []float64 {
	t.Helper()
	var out []float64
	for _, part := range strings.Split(s, ";") {
		out = append(out, number(t, part))
	}
	return out
}

func check(t *testing.T, source string, got, want, allowed float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > allowed*(1+1e-9)+1e-12 {
		t.Errorf("%s: got %.5f, want %g ± %g", source, got, want, allowed)
	}
}
