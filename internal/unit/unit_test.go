package unit

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestFixedPoints(t *testing.T) {
	near := func(name string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: got %v, want %v", name, got, want)
		}
	}
	// Fixed points of the scales and the 1959 definitions of inch, foot and pound.
	near("ice in °F", float64(Celsius(0).Fahrenheit()), 32)
	near("steam in °F", float64(Celsius(100).Fahrenheit()), 212)
	near("scales meet", float64(Fahrenheit(-40).Celsius()), -40)
	near("inch in mm", float64(Inch(1).Millimetres()), 25.4)
	near("inch in cm", float64(Inch(1).Centimetres()), 2.54)
	near("foot in m", float64(Foot(10).Metres()), 3.048)
	near("pound in kg", float64(Pound(1).Kilograms()), 0.45359237)
}

func TestThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-1000, 1000).Draw(t, "x")
		for name, back := range map[string]float64{
			"temperature": float64(Celsius(x).Fahrenheit().Celsius()),
			"rain":        float64(Millimetre(x).Inches().Millimetres()),
			"spacing":     float64(Centimetre(x).Inches().Centimetres()),
			"length":      float64(Metre(x).Feet().Metres()),
			"mass":        float64(Kilogram(x).Pounds().Kilograms()),
		} {
			if math.Abs(back-x) > 1e-9 {
				t.Fatalf("%s: %v came back as %v", name, x, back)
			}
		}
	})
}

func TestShown(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Metric.Temp(-2.34), "−2.3 °C"},
		{Metric.Temp(-0.04), "0 °C"},
		{Imperial.Temp(-2), "28 °F"},
		{Metric.Rain(12.4), "12 mm"},
		{Imperial.Rain(25.4), "1 in"},
		{Metric.Spacing(45), "45 cm"},
		{Imperial.Spacing(45), "18 in"},
		{Metric.Length(3.6), "3.6 m"},
		{Imperial.Length(3.6), "11.8 ft"},
		{SystemOf(false).Mass(2.4), "2.4 kg"},
		{SystemOf(true).Mass(2.4), "5.3 lb"},
		{Number(math.NaN(), 1), "–"},
		{Number(100, 0), "100"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

func TestListed(t *testing.T) {
	for want, words := range map[string][]string{"": nil, "kale": {"kale"}, "kale and leeks": {"kale", "leeks"}, "kale, leeks and chard": {"kale", "leeks", "chard"}} {
		if got := Listed(words); got != want {
			t.Errorf("%q: got %q, want %q", words, got, want)
		}
	}
}
