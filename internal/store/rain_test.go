package store

import (
	"context"
	"path/filepath"
	"testing"
	"time"

	"haulm/internal/garden"
)

// A place that nobody waters is read back as one.
func TestRainFedPlacesAreKept(t *testing.T) {
	ctx := context.Background()
	s, err := Create(filepath.Join(t.TempDir(), "garden.haulm"))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	g := garden.Demo()
	g.Places[1].RainFed = true
	if err := s.SaveGarden(ctx, g, time.Unix(0, 0)); err != nil {
		t.Fatal(err)
	}
	back, err := s.LoadGarden(ctx)
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range back.Places {
		if p.RainFed != (i == 1) {
			t.Errorf("%s comes back rain-fed %v", p.Name, p.RainFed)
		}
	}
}
