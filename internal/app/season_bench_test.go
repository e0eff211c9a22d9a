package app

import (
	"testing"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/garden"
)

// benchDesk is the demonstration garden, planned, in a file, on a morning in
// June.
func benchDesk(b *testing.B) *Desk {
	b.Helper()
	desk := emptyDesk(b, time.Date(2027, 6, 15, 7, 0, 0, 0, time.UTC))
	if err := desk.SaveGarden(garden.Demo()); err != nil {
		b.Fatal(err)
	}
	if _, err := desk.WatchPlan(b.Context(), WatchQuestion{From: calendar.On(2027, 1, 4), Iterations: 60, Seed: 1}); err != nil {
		b.Fatal(err)
	}
	return desk
}

// BenchmarkMorningCold is a morning from the file on: weather made ready, plan
// told, diary read, everything grown.
func BenchmarkMorningCold(b *testing.B) {
	kept := benchDesk(b)
	for b.Loop() {
		desk, err := OpenDesk(b.Context(), kept.file, kept.Catalogue, kept.now)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := desk.Morning(TodayQuestion{Day: calendar.None}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkMorning is the next look at the same morning.
func BenchmarkMorning(b *testing.B) {
	desk := benchDesk(b)
	for b.Loop() {
		if _, err := desk.Morning(TodayQuestion{Day: calendar.None}); err != nil {
			b.Fatal(err)
		}
	}
}
