package climatology

import (
	"testing"

	"haulm/internal/weather"
)

var ithaca = weather.Site{LatDeg: 42.44, LonDeg: -76.5, ElevM: 250}

func BenchmarkLoad(b *testing.B) {
	for b.Loop() {
		if _, err := Load(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkNormals(b *testing.B) {
	w := load(b)
	for b.Loop() {
		w.Normals(ithaca)
	}
}

func BenchmarkEstimate30Years(b *testing.B) {
	w := load(b)
	for b.Loop() {
		w.Estimate(ithaca, 30, 1996)
	}
}

func load(t testing.TB) *World {
	t.Helper()
	w, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	return w
}
