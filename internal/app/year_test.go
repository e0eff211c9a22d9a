package app

import (
	"bytes"
	"context"
	"strings"
	"testing"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/diary"
	"haulm/internal/garden"
	"haulm/internal/reckoning"
	"haulm/internal/season"
)

// livedYear is the kept garden at the end of 2027, with a diary in which what
// was planned was begun on its day, picked once and cleared as planned.
func livedYear(t *testing.T) *Desk {
	t.Helper()
	desk := keptDesk(t, time.Date(2027, 12, 31, 9, 0, 0, 0, time.UTC))
	planned, err := desk.Planned()
	if err != nil {
		t.Fatal(err)
	}
	note := func(e diary.Entry) {
		t.Helper()
		if e.Day > desk.Today() {
			return
		}
		if _, err := desk.file.AddDiary(context.Background(), e, desk.now()); err != nil {
			t.Fatalf("%s %s: %v", e.Kind, e.Crop, err)
		}
	}
	for i := range planned.Year.Plantings {
		p := &planned.Year.Plantings[i]
		if p.Stands {
			continue
		}
		e := diary.Entry{Kind: diary.Sown, Day: p.Start, Place: p.Place, Crop: p.Crop.Key, Planting: season.Key(p.Crop.Key, p.Route.Key, p.Place, p.FromCM, p.Start)}
		if p.Route.Vegetative {
			e.Kind = diary.Planted
		}
		note(e)
		if e.Kind = diary.Planted; p.SetOut.Known() {
			e.Day = p.SetOut
			note(e)
		}
		if p.FirstPick.P50.Known() && p.FirstPick.P50 < p.Clear {
			e.Kind, e.Day, e.Amount, e.Unit = diary.Picked, p.FirstPick.P50, 1.5, diary.Kilogram
			note(e)
			e.Amount, e.Unit = 0, diary.NoUnit
		}
		e.Kind, e.Day = diary.Cleared, p.Clear
		note(e)
	}
	return desk
}

func TestAYearIsReckonedClosedAndOpenedAgain(t *testing.T) {
	desk := livedYear(t)
	reckoned(t, desk)
	nextYearBegins(t, desk)
}

func reckoned(t *testing.T, desk *Desk) {
	t.Helper()
	a, err := desk.Reckon(0)
	if err != nil {
		t.Fatal(err)
	}
	if a.Year != 2027 || !a.Whole || !a.Planned || a.Kg <= 0 || a.ForecastKg.P50 <= 0 || a.LandPortions <= 0 {
		t.Fatalf("reckoned %d, whole %v, planned %v, %g kg against %+v, land %g", a.Year, a.Whole, a.Planned, a.Kg, a.ForecastKg, a.LandPortions)
	}
	planned, _ := desk.Planned()
	if most := planned.Year.Totals.PickedKg.P90 * 1.2; a.ForecastKg.P50 > most {
		t.Errorf("%g kg were forecast within the year, of a plan of %g kg in all", a.ForecastKg.P50, most)
	}
	var out bytes.Buffer
	WriteYear(&out, a)
	for _, want := range []string{"the year 2027", "kg/m²", "estimated"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("no %q in:\n%s", want, out.String())
		}
	}
	if early, err := desk.Reckon(2031); err == nil {
		t.Errorf("a year to come was reckoned: %+v", early.Review)
	}
}

func nextYearBegins(t *testing.T, desk *Desk) {
	t.Helper()
	before, _ := desk.Garden()
	next, err := desk.NextYear(2027)
	if err != nil {
		t.Fatal(err)
	}
	if len(next.Grown) < 10 || len(next.Stands) == 0 {
		t.Fatalf("%d lines of history and %d crops that stand", len(next.Grown), len(next.Stands))
	}
	told, err := desk.Reckon(2027)
	if err != nil {
		t.Fatal(err)
	}
	if err := desk.StartNextYear(next); err != nil {
		t.Fatal(err)
	}
	after, _ := desk.Garden()
	if len(after.History) <= len(before.History) || after.Site != before.Site || len(after.Places) != len(before.Places) || len(after.Wants) != len(before.Wants) {
		t.Errorf("the next year's garden is not the old one with more history: %d lines, then %d", len(before.History), len(after.History))
	}
	if _, err := desk.Planned(); err != ErrNoPlan {
		t.Errorf("the old year's plan is still the plan: %v", err)
	}
	closed, err := desk.Reckon(2027)
	if err != nil || !closed.ClosedOn.Known() || closed.Kg != told.Kg || len(closed.Crops) != len(told.Crops) {
		t.Fatalf("the closed year is told otherwise: %v", err)
	}
	if _, err := desk.NextYear(2027); err == nil || !strings.Contains(err.Error(), "closed") {
		t.Errorf("closing a closed year: %v", err)
	}
	if err := desk.StartNextYear(next); err == nil {
		t.Error("a closed year was closed again")
	}
	if year, err := desk.UndoOpensYear(); err != nil || year != 2027 {
		t.Errorf("undoing would open %d, %v", year, err)
	}
	if err := desk.UndoGarden(); err != nil {
		t.Fatal(err)
	}
	back, _ := desk.Garden()
	if len(back.History) != len(before.History) || len(back.Standing) != len(before.Standing) {
		t.Errorf("undone: %d lines of history and %d standing, want %d and %d", len(back.History), len(back.Standing), len(before.History), len(before.Standing))
	}
	if open, err := desk.Reckon(2027); err != nil || open.ClosedOn.Known() {
		t.Errorf("undone, the year is still closed: %v", err)
	}
}

// The plan comes back with the year, and a plan of the next year made before
// the old one is closed leaves the old year's forecast be.
func TestThePlanOfAClosedYear(t *testing.T) {
	desk := keptDesk(t, time.Date(2027, 12, 31, 9, 0, 0, 0, time.UTC))
	refusals(t, desk)
	planned, _ := desk.Planned()
	if err := desk.take(planned); err != nil {
		t.Fatal(err)
	}
	if _, err := desk.Note("picked 2 kg leeks 4 March 2027"); err != nil {
		t.Fatal(err)
	}
	forecast, err := desk.Reckon(2027)
	if err != nil {
		t.Fatal(err)
	}
	if err := desk.keepText(savedPlan{From: calendar.On(2028, 1, 3)}, 1); err != nil {
		t.Fatal(err)
	}
	desk.planned = nil
	again, err := desk.Reckon(2027)
	if err != nil {
		t.Fatal(err)
	}
	if again.LandPortions == 0 || again.LandPortions != forecast.LandPortions {
		t.Errorf("with the next year planned, the old plan's land is worth %g a week, before %g", again.LandPortions, forecast.LandPortions)
	}
}

// What is refused leaves the garden as it was.
func refusals(t *testing.T, desk *Desk) {
	t.Helper()
	shown := ShowDesk(garden.Demo(), desk.Catalogue, func() time.Time { return time.Date(2027, 12, 31, 9, 0, 0, 0, time.UTC) })
	if err := shown.StartNextYear(&reckoning.Next{Year: 2028}); err == nil || !strings.Contains(err.Error(), "only shown") {
		t.Errorf("a garden that is only shown: %v", err)
	}
	before, _ := desk.Garden()
	bad := &reckoning.Next{Year: 2028, Stores: []reckoning.NextStore{{InStore: garden.InStore{Dish: "onions", Kg: -4}}}}
	if err := desk.StartNextYear(bad); err == nil || !strings.Contains(err.Error(), "-4 kg") {
		t.Errorf("a store of −4 kg: %v", err)
	}
	if after, _ := desk.Garden(); after != before {
		t.Error("a refused year altered the garden")
	}
	if year, err := desk.UndoOpensYear(); err != nil || year != 0 {
		t.Errorf("nothing was closed, and undoing would open %d, %v", year, err)
	}
}
