package season

import (
	"testing"

	"haulm/internal/unit"
)

func TestAmountsAreSaidAsFarAsTheyAreKnown(t *testing.T) {
	metric, imperial := measures{unit.Metric}, measures{unit.Imperial}
	for _, c := range []struct{ got, want string }{
		{metric.weight(0), "a handful"}, {metric.weight(0.049), "a handful"}, {metric.weight(0.06), "under 100 g"}, {metric.weight(0.1), "about 100 g"},
		{metric.weight(0.36), "about 350 g"}, {metric.weight(0.97), "about 950 g"}, {metric.weight(0.98), "about 1 kg"}, {metric.weight(1.44), "about 1.4 kg"},
		{metric.weight(12.3), "about 12 kg"},
		{imperial.weight(0.02), "a handful"}, {imperial.weight(0.1), "under 4 oz"}, {imperial.weight(0.23), "about 8 oz"}, {imperial.weight(0.453592), "about 1 lb"},
		{imperial.weight(2), "about 4.4 lb"}, {imperial.weight(20), "about 44 lb"},
		{metric.weighed(0.35), "350 g"}, {metric.weighed(2.25), "2.2 kg"}, {imperial.weighed(0.2), "7 oz"}, {imperial.weighed(2), "4.4 lb"},
		{metric.temp(-2.25), "−2.2 °C"}, {imperial.temp(-2.25), "28 °F"}, {metric.warmth(2), "2 °C"}, {imperial.warmth(2), "4 °F"},
		{metric.spacing(2.5), "2.5 cm"}, {imperial.spacing(30.48), "12 in"}, {metric.depth(23.4), "23 mm"}, {imperial.depth(25.4), "1 in"},
		{metric.water(36.2), "36 litres"}, {imperial.water(45.46), "10 gallons"},
		{metric.stretch(120, 300), "1.2–3.0 m"}, {imperial.stretch(0, 305), "0–10 ft"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}
