package store

import (
	"context"
	"math"
	"path/filepath"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/weather"
)

// Hours come back as they were, missing ones missing, the oldest left out.
func TestHoursComeBack(t *testing.T) {
	s, err := Create(filepath.Join(t.TempDir(), "g.haulm"))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	ctx := context.Background()
	if h, err := s.LoadHours(ctx, "own"); h != nil || err != nil {
		t.Fatalf("hours of nothing: %v, %v", h, err)
	}
	const days = hoursKeptDays + 10
	h := &weather.Hourly{Source: "a test", Start: calendar.On(2026, 1, 1)}
	for i := range days * weather.DayHours {
		h.TempC = append(h.TempC, float64(i%300)/10-5)
		h.HumidityPC = append(h.HumidityPC, float64(50+i%50))
		h.RainMM = append(h.RainMM, float64(i%7)/10)
	}
	gap := (days - 3) * weather.DayHours
	h.TempC[gap], h.HumidityPC[gap], h.RainMM[gap+1] = math.NaN(), math.NaN(), math.NaN()
	if err := s.SaveHours(ctx, "own", h); err != nil {
		t.Fatal(err)
	}
	got, err := s.LoadHours(ctx, "own")
	if err != nil {
		t.Fatal(err)
	}
	if got.Source != h.Source || got.Start != h.Start.Add(10) || got.Days() != hoursKeptDays {
		t.Fatalf("%d days from %s of %q", got.Days(), got.Start, got.Source)
	}
	same := func(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }
	for i := range got.TempC {
		k := i + 10*weather.DayHours
		if !same(got.TempC[i], h.TempC[k]) || !same(got.HumidityPC[i], h.HumidityPC[k]) || !same(got.RainMM[i], h.RainMM[k]) && k != gap {
			t.Fatalf("hour %d: %g °C %g %% %g mm, were %g, %g, %g", k, got.TempC[i], got.HumidityPC[i], got.RainMM[i], h.TempC[k], h.HumidityPC[k], h.RainMM[k])
		}
	}
	if err := s.SaveHours(ctx, "own", &weather.Hourly{Start: h.Start, TempC: h.TempC}); err == nil {
		t.Error("hours without humidity are of no use, and are kept")
	}
}
