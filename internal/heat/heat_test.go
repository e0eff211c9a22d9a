package heat

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"haulm/internal/sharedfolder"
)

// notHere are the reference table's other subjects: hourly temperatures and
// winter chill, which this package does not hold.
var notHere = []string{"hourly_Linvill1990", "hourly_PartonLogan1981", "utah_chill_unit", "chill_hours_0_7.2"}

// TestReferenceVectors runs the degree-day rows of degree_days.csv; each names
// its source.
func TestReferenceVectors(t *testing.T) {
	sums := annualSums(t)
	ran := 0
	for _, row := range sharedfolder.Rows(t, "reference/models/degree_days.csv") {
		if slices.Contains(notHere, row["function"]) {
			continue
		}
		ran++
		t.Run(row["id"], func(t *testing.T) {
			got, want := vector(t, row, sums)
			for i := range got {
				if math.IsNaN(got[i]) || math.Abs(got[i]-want[i]) > number(t, row["tolerance"])+1e-12 {
					t.Errorf("%s %s (%s)\n got %v want %v ± %s", row["function"], row["inputs"], row["source"], got, want, row["tolerance"])
				}
			}
		})
	}
	if ran < 40 {
		t.Errorf("only %d rows", ran)
	}
}

func annualSums(t *testing.T) map[string]float64 {
	rows := sharedfolder.Rows(t, "reference/models/degree_days_ucipm_366.csv")
	sums := map[string]float64{}
	for i, row := range rows {
		next := rows[min(i+1, len(rows)-1)]
		for column, v := range methods(number(t, row["tmin"]), number(t, row["tmax"]), number(t, next["tmin"])) {
			sums[column] += v
		}
	}
	return sums
}

func vector(t *testing.T, row map[string]string, sums map[string]float64) (got, want []float64) {
	t.Helper()
	for _, s := range strings.Split(row["expected"], "/") {
		want = append(want, number(t, s))
	}
	f, in := row["function"], inputs(t, row["inputs"])
	if column, ok := strings.CutPrefix(f, "annual_sum_"); ok {
		return []float64{sums[column]}, want
	}
	low, high := in("Tmin"), in("Tmax")
	switch {
	case strings.HasPrefix(row["inputs"], "F: "): // three cut-offs in one row
		for _, c := range cutoffs {
			got = append(got, SingleSine(low, high, Band{in("lower"), in("upper"), c}))
		}
		return got, want
	case f == "single_sine":
		return []float64{SingleSine(low, high, bandOf(t, row["inputs"], in))}, want
	case f == "double_sine":
		return []float64{DoubleSine(low, high, in("Tmin_next"), bandOf(t, row["inputs"], in))}, want
	case f == "simple_average_avg":
		return []float64{Average(low, high, in("lower"))}, want
	case strings.HasPrefix(f, "simple_average_"):
		ceiling := in("upper")
		if math.IsNaN(ceiling) {
			ceiling = math.Inf(1)
		}
		return []float64{ClampedAverage(low, high, in("lower"), ceiling)}, want
	case f == "UK_MetOffice_daydegrees":
		return []float64{FourCase(low, high, in("base"))}, want
	}
	t.Fatalf("the harness does not know %q: add it", f)
	return nil, nil
}

func bandOf(t *testing.T, s string, in func(string) float64) Band {
	t.Helper()
	b := Above(in("lower"))
	if upper := in("upper"); !math.IsNaN(upper) {
		b.Upper = upper
	}
	_, name, _ := strings.Cut(s, "cutoff=")
	cut, ok := map[string]Cutoff{"none": Horizontal, "horiz": Horizontal, "vert": Vertical, "intrmd": Intermediate}[name]
	if !ok {
		t.Fatalf("cut-off %q", name)
	}
	b.Cutoff = cut
	return b
}

// McMaster & Wilhelm 1997 and the four-case day-degree, by hand.
func TestAverages(t *testing.T) {
	for _, tc := range []struct {
		what      string
		got, want float64
	}{
		{"method 1, cold day", Average(2, 16, 10), 0},
		{"method 2, the same day", ClampedAverage(2, 16, 10, math.Inf(1)), 3},
		{"maize 50/86 °F", ClampedAverage(48, 90, 50, 86), 18},
		{"four cases: all above", FourCase(12, 20, 10), 6},
		{"four cases: mean above", FourCase(8, 16, 10), 2.5},
		{"four cases: mean below", FourCase(4, 14, 10), 1},
		{"four cases: all below", FourCase(2, 9, 10), 0},
		{"mean above the plateau", MeanInBand(31, 6, 25), 19},
		{"mean below the base", MeanInBand(3, 6, 25), 0},
	} {
		if math.Abs(tc.got-tc.want) > 1e-12 {
			t.Errorf("%s: got %g, want %g", tc.what, tc.got, tc.want)
		}
	}
}

func TestMissing(t *testing.T) {
	nan := math.NaN()
	for i, got := range []float64{
		SingleSine(nan, 12, Above(20)), DoubleSine(1, 12, nan, Above(5)), SingleTriangle(3, nan, band(Vertical)),
		Average(nan, 3, 5), ClampedAverage(3, nan, 5, 9), FourCase(nan, 5, 10), MeanInBand(nan, 0, 9),
	} {
		if !math.IsNaN(got) {
			t.Errorf("case %d: a missing temperature gave %g", i, got)
		}
	}
}

func TestSine_AgreesWithSampling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(-20, 30).Draw(t, "low")
		high := low + rapid.Float64Range(0.1, 25).Draw(t, "range")
		lower := rapid.Float64Range(-5, 15).Draw(t, "lower")
		b := Band{Lower: lower, Upper: lower + rapid.Float64Range(1, 25).Draw(t, "band"), Cutoff: Horizontal}
		const n = 20000
		horizontal, vertical := 0.0, 0.0
		for i := range n {
			temp := (low+high)/2 + (high-low)/2*math.Sin(2*math.Pi*(float64(i)+0.5)/n)
			horizontal += MeanInBand(temp, b.Lower, b.Upper) / n
			if temp < b.Upper {
				vertical += max(temp-b.Lower, 0) / n
			}
		}
		if got := SingleSine(low, high, b); math.Abs(got-horizontal) > 0.001 {
			t.Fatalf("horizontal %v, sampled %v", got, horizontal)
		}
		b.Cutoff = Vertical
		if got := SingleSine(low, high, b); math.Abs(got-vertical) > 0.01 {
			t.Fatalf("vertical %v, sampled %v", got, vertical)
		}
	})
}

func TestSine_Properties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(-20, 40).Draw(t, "low")
		high := low + rapid.Float64Range(0, 25).Draw(t, "range")
		b := Band{Lower: 10, Upper: 30}
		h := SingleSine(low, high, b)
		b.Cutoff = Intermediate
		i := SingleSine(low, high, b)
		b.Cutoff = Vertical
		v := SingleSine(low, high, b)
		if !(h >= i-1e-9 && i >= v && v >= 0 && h <= 20+1e-9) {
			t.Fatalf("horizontal %v, intermediate %v, vertical %v", h, i, v)
		}
		if SingleSine(low, high+1, Above(10)) < SingleSine(low, high, Above(10)) {
			t.Fatal("a warmer day gave less")
		}
	})
}

func BenchmarkDoubleSine(b *testing.B) {
	d := Band{Lower: 10, Upper: 30}
	for b.Loop() {
		DoubleSine(6, 34, 8, d)
	}
}
