package unit

import (
	"math"
	"testing"
)

func TestSpans(t *testing.T) {
	portions := func(low, high float64) string { return Span(low, high, 0, "portion", "portions") }
	for _, c := range []struct{ got, want string }{
		{Metric.MassSpan(1.23, 4.94), "1.2–4.9 kg"}, {Metric.MassSpan(2.21, 2.24), "about 2.2 kg"}, {Metric.MassSpan(3.3, 16.4), "3.3–16 kg"},
		{Metric.MassSpan(0, 1), "up to 1 kg"}, {Metric.MassSpan(0, 0.02), "0 kg"}, {Imperial.MassSpan(1, 2), "2.2–4.4 lb"},
		{portions(37, 187), "37–190 portions"}, {portions(0.9, 1.2), "about 1 portion"}, {portions(1234, 2345), "1,200–2,300 portions"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

func TestCounts(t *testing.T) {
	for x, want := range map[float64]string{0.4: "0", 999.6: "1,000", 2310: "2,310", 1234567: "1,234,567", -4321: "−4,321", math.Inf(1): "–"} {
		if got := Count(x); got != want {
			t.Errorf("%g is %q, want %q", x, got, want)
		}
	}
}
