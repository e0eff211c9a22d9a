package app

import (
	"bytes"
	"context"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/diary"
	"haulm/internal/garden"
	"haulm/internal/season"
	"haulm/internal/store"
)

// emptyDesk is a desk over a new file, with the clock at day.
func emptyDesk(tb testing.TB, day time.Time) *Desk {
	tb.Helper()
	catalogue, err := crop.Load()
	if err != nil {
		tb.Fatal(err)
	}
	file, err := store.Create(filepath.Join(tb.TempDir(), "g.haulm"))
	if err != nil {
		tb.Fatal(err)
	}
	tb.Cleanup(func() { _ = file.Close() })
	desk, err := OpenDesk(context.Background(), file, catalogue, func() time.Time { return day })
	if err != nil {
		tb.Fatal(err)
	}
	return desk
}

// keptDesk is the demonstration garden in a file of its own, planned from the
// start of 2027, with the clock at day.
func keptDesk(t *testing.T, day time.Time) *Desk {
	t.Helper()
	desk := emptyDesk(t, day)
	if err := desk.SaveGarden(garden.Demo()); err != nil {
		t.Fatal(err)
	}
	w, err := desk.Weather()
	if err != nil {
		t.Fatal(err)
	}
	planned, err := w.Plan(context.Background(), PlanQuestion{Garden: garden.Demo(), From: calendar.On(2027, 1, 4), Iterations: 60, Seed: 1}, desk.Catalogue)
	if err != nil {
		t.Fatal(err)
	}
	desk.planned = planned
	return desk
}

// The plan's plantings come up as jobs on their days, are ticked off by the
// diary, and can be undone.
func TestAMorningFollowsThePlanAndTheDiary(t *testing.T) {
	desk := keptDesk(t, time.Date(2027, 4, 12, 7, 0, 0, 0, time.UTC))
	state, err := desk.Morning(TodayQuestion{Day: calendar.None})
	if err != nil {
		t.Fatal(err)
	}
	if len(state.Plantings) < 12 || state.Years < 20 || state.Measured.Known() {
		t.Fatalf("%d plantings, %d years, measured to %s", len(state.Plantings), state.Years, state.Measured)
	}
	sowing := jobOf(state, "begin")
	if sowing == nil {
		t.Fatal("nothing is to be sown on 12 April")
	}
	p := standingOf(state, sowing.Key)
	if p == nil || !p.Planned.P50.Known() || p.ScaleM2 <= 0 || p.Plants < 1 || p.Seeds < p.Plants && !p.Route.Vegetative {
		t.Fatalf("%s is of no sound planting: %+v", sowing.Title, p)
	}
	if _, err := desk.NoteEntry(diary.Entry{Kind: sowing.TicksOff, Day: desk.Today(), Place: p.Place.Name, Crop: p.Crop.Key, Planting: sowing.Key}); err != nil {
		t.Fatal(err)
	}
	after, err := desk.Morning(TodayQuestion{Day: calendar.None})
	if err != nil {
		t.Fatal(err)
	}
	for i := range after.Jobs {
		if after.Jobs[i].ID == sowing.ID {
			t.Errorf("%s is asked again", sowing.Title)
		}
	}
	if words, err := desk.UndoNote(); err != nil || !strings.Contains(words, "taken out again") {
		t.Errorf("undo: %q, %v", words, err)
	}
	var out bytes.Buffer
	WriteMorning(&out, state, true)
	if !strings.Contains(out.String(), "Today, in 50 minutes") {
		t.Error("150 minutes a week are not shared out over three visits")
	}
}

func jobOf(s *season.State, kind string) *season.Job {
	for i := range s.Jobs {
		if s.Jobs[i].Kind == kind {
			return &s.Jobs[i]
		}
	}
	return nil
}

func standingOf(s *season.State, key string) *season.Standing {
	for i := range s.Plantings {
		if s.Plantings[i].Key == key {
			return &s.Plantings[i]
		}
	}
	return nil
}

// A line is altered by one hand at a time.
func TestEditNoteRefusesAnUnseenState(t *testing.T) {
	desk := keptDesk(t, time.Date(2027, 4, 12, 7, 0, 0, 0, time.UTC))
	noted, err := desk.Note("picked 500 g leeks")
	if err != nil {
		t.Fatal(err)
	}
	e := noted.Entry
	e.Amount = 600
	if err := desk.EditNote(e, 1); err != nil {
		t.Fatal(err)
	}
	e.Amount = 700
	if err := desk.EditNote(e, 1); store.KindOf(err) != store.Exists {
		t.Errorf("writing over an unseen state gave %v", err)
	}
	e.Amount = 900_000
	if err := desk.EditNote(e, 2); err == nil || !strings.Contains(err.Error(), "more than") {
		t.Errorf("900 kg of leeks gave %v", err)
	}
}

// A job that moves counts up, one that is gone is cancelled once, and one that
// stays is let be.
func TestCalendarEntriesAreUpdates(t *testing.T) {
	job := season.Job{ID: "sow a", Title: "Sow a", Why: "why", CostSays: "cost", Due: 20000, Until: 20010, Minutes: 5}
	state := &season.State{Today: 20000, Jobs: []season.Job{job}}
	first, kept := calendarEntries(state, map[string]published{}, false)
	if len(first) != 1 || first[0].Sequence != 0 || first[0].Until != first[0].Day {
		t.Fatalf("first %+v", first)
	}
	same, kept := calendarEntries(state, kept, false)
	if same[0] != first[0] {
		t.Errorf("nothing changed, yet %+v became %+v", first[0], same[0])
	}
	state.Jobs[0].Due++
	moved, kept := calendarEntries(state, kept, false)
	if moved[0].UID != first[0].UID || moved[0].Sequence != 1 || moved[0].Day != 20001 {
		t.Errorf("moved %+v", moved)
	}
	state.Jobs = nil
	for range 2 {
		var gone = moved
		gone, kept = calendarEntries(state, kept, false)
		if len(gone) != 1 || !gone[0].Cancelled || gone[0].Sequence != 2 || gone[0].UID != first[0].UID {
			t.Errorf("gone %+v", gone)
		}
	}
	state.Today = 20100
	if old, _ := calendarEntries(state, kept, false); len(old) != 0 {
		t.Errorf("still told after months: %+v", old)
	}
}

func TestADeskThatOnlyShowsKeepsNoDiary(t *testing.T) {
	catalogue, err := crop.Load()
	if err != nil {
		t.Fatal(err)
	}
	desk := ShowDesk(garden.Demo(), catalogue, func() time.Time { return time.Date(2027, 4, 12, 7, 0, 0, 0, time.UTC) })
	if _, err := desk.Note("picked 500 g leeks"); err == nil || !strings.Contains(err.Error(), "only shown") {
		t.Errorf("got %v", err)
	}
	if _, err := desk.Morning(TodayQuestion{Day: calendar.None}); err != nil {
		t.Errorf("a morning of a garden that is only shown: %v", err)
	}
}
