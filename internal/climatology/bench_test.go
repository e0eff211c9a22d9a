package climatology

import (
	"testing"
	"time"

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

// TestSpeed holds the promises with room for a slow, shared machine; the
// benchmarks tell the real figures.
func TestSpeed(t *testing.T) {
	start := time.Now()
	w := load(t)
	loaded := time.Since(start)
	start = time.Now()
	w.Estimate(ithaca, 30, 1996)
	estimated := time.Since(start)
	t.Logf("load %v, estimate %v", loaded, estimated)
	if loaded > 500*time.Millisecond || estimated > 1500*time.Millisecond {
		t.Errorf("load %v (promised 100 ms), estimate %v (promised 300 ms)", loaded, estimated)
	}
}
