package app

import (
	"testing"

	"haulm/internal/climatology"
	"haulm/internal/weather"
)

var benchSite = weather.Site{LatDeg: 42.44, LonDeg: -76.5, ElevM: 250}

// BenchmarkFirstEstimate: cold as a command pays it, warm as a page does.
func BenchmarkFirstEstimate(b *testing.B) {
	b.Run("cold", func(b *testing.B) {
		for b.Loop() {
			w, err := climatology.Load()
			if err != nil {
				b.Fatal(err)
			}
			w.Estimate(benchSite, estimateYears, estimateStart)
		}
	})
	b.Run("warm", func(b *testing.B) {
		for b.Loop() {
			if _, err := EstimateFor(benchSite); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("basis", func(b *testing.B) {
		for b.Loop() {
			if _, _, err := EstimateBasis(benchSite); err != nil {
				b.Fatal(err)
			}
		}
	})
}
