package web

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"haulm/internal/app"
	"haulm/internal/calendar"
	"haulm/internal/diary"
	"haulm/internal/garden"
	"haulm/internal/season"
	"haulm/internal/store"
)

// midsummer is the day on which the running garden of the tests is looked at.
func midsummer() time.Time { return time.Date(2027, time.June, 24, 7, 0, 0, 0, time.UTC) }

// runningFile is the demonstration garden in a file, planned in January, with
// a diary in which everything planned until midsummer was done on its day.
var runningFile = sync.OnceValues(func() ([]byte, error) {
	folder, err := os.MkdirTemp("", "haulm-web-test")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	path := filepath.Join(folder, "garden.haulm")
	file, err := store.Create(path)
	if err != nil {
		return nil, err
	}
	now := today()
	desk, err := app.OpenDesk(context.Background(), file, catalogue(), func() time.Time { return now })
	if err == nil {
		err = desk.SaveGarden(garden.Demo())
	}
	if err == nil {
		_, err = desk.WatchPlan(context.Background(), app.WatchQuestion{From: calendar.FromTime(now), Iterations: 4000, Seed: 1})
	}
	now = midsummer()
	if err == nil {
		err = liveTheSpring(desk)
	}
	if err == nil {
		err = file.Close()
	}
	if err != nil {
		return nil, err
	}
	return os.ReadFile(path)
})

// liveTheSpring writes the diary of a gardener who does everything on its day.
func liveTheSpring(desk *app.Desk) error {
	planned, err := desk.Planned()
	if err != nil {
		return err
	}
	until := calendar.FromTime(midsummer())
	for i := range planned.Year.Plantings {
		p := &planned.Year.Plantings[i]
		if p.Stands || p.Start > until {
			continue
		}
		e := diary.Entry{Kind: diary.Sown, Day: p.Start, Place: p.Place, Crop: p.Crop.Key, Planting: season.Key(p.Crop.Key, p.Route.Key, p.Place, p.FromCM, p.Start)}
		if p.Route.Vegetative {
			e.Kind = diary.Planted
		}
		if _, err := desk.NoteEntry(e); err != nil {
			return fmt.Errorf("%s: %w", p.Crop.Key, err)
		}
		if p.SetOut.Known() && p.SetOut <= until {
			e.Kind, e.Day = diary.Planted, p.SetOut
			if _, err := desk.NoteEntry(e); err != nil {
				return fmt.Errorf("%s: %w", p.Crop.Key, err)
			}
		}
	}
	return nil
}

// runningDesk is the running garden in a file of its own.
func runningDesk(t testing.TB) *app.Desk {
	t.Helper()
	return runningDeskOn(t, midsummer)
}

// runningDeskOn is the same at another time; nothing was written since
// midsummer.
func runningDeskOn(t testing.TB, now func() time.Time) *app.Desk {
	t.Helper()
	content, err := runningFile()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "garden.haulm")
	if err := os.WriteFile(path, content, 0o600); err != nil {
		t.Fatal(err)
	}
	file, err := store.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = file.Close() })
	desk, err := app.OpenDesk(context.Background(), file, catalogue(), now)
	if err != nil {
		t.Fatal(err)
	}
	return desk
}
