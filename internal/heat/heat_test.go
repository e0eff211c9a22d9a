package heat

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"haulm/internal/sharedfolder"
)

// TestReferenceVectors runs the rows of degree_days.csv for the mean of a day
// above a base, method 1 of McMaster & Wilhelm 1997. The table's other ways of
// counting, by the curve of the day, are not ours.
func TestReferenceVectors(t *testing.T) {
	ran := 0
	for _, row := range sharedfolder.Rows(t, "reference/models/degree_days.csv") {
		if row["function"] != "simple_average_avg" {
			continue
		}
		ran++
		in := inputs(t, row["inputs"])
		got, want := MeanInBand((in["Tmin"]+in["Tmax"])/2, in["lower"], math.Inf(1)), number(t, row["expected"])
		if math.Abs(got-want) > number(t, row["tolerance"]) {
			t.Errorf("%s %s (%s): got %g, want %g ± %s", row["id"], row["inputs"], row["source"], got, want, row["tolerance"])
		}
	}
	if ran < 2 {
		t.Errorf("only %d rows", ran)
	}
}

// inputs splits "Tmin=5;Tmax=20;lower=10;upper=None" into its numbers.
func inputs(t *testing.T, s string) map[string]float64 {
	t.Helper()
	parts := map[string]float64{}
	for _, part := range strings.Split(s, ";") {
		if name, value, ok := strings.Cut(part, "="); ok && value != "None" {
			parts[name] = number(t, value)
		}
	}
	return parts
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// By hand.
func TestMeanInBand(t *testing.T) {
	for _, tc := range []struct {
		what                      string
		mean, base, plateau, want float64
	}{
		{"within the band", 15, 6, 25, 9},
		{"above the plateau", 31, 6, 25, 19},
		{"below the base", 3, 6, 25, 0},
		{"no plateau", 31, 6, math.Inf(1), 25},
	} {
		if got := MeanInBand(tc.mean, tc.base, tc.plateau); got != tc.want {
			t.Errorf("%s: got %g, want %g", tc.what, got, tc.want)
		}
	}
	if got := MeanInBand(math.NaN(), 0, 9); !math.IsNaN(got) {
		t.Errorf("a missing temperature gave %g", got)
	}
}

func TestMeanInBand_WarmerNeverGivesLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		base := rapid.Float64Range(-5, 15).Draw(t, "base")
		plateau := base + rapid.Float64Range(0, 30).Draw(t, "band")
		mean := rapid.Float64Range(-40, 50).Draw(t, "mean")
		got := MeanInBand(mean, base, plateau)
		if got < 0 || got > plateau-base || MeanInBand(mean+1, base, plateau) < got {
			t.Fatalf("%g at %g in %g to %g", got, mean, base, plateau)
		}
	})
}
