package app

import (
	"context"
	"errors"
	"path/filepath"
	"strings"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/garden"
	"haulm/internal/normals"
	"haulm/internal/plan"
	"haulm/internal/store"
)

// The demonstration's plan beside published whole gardens (labour and yields of
// the shared reference set: Sussex 1.0, Rutgers 2.4, Harlow Carr 2.6, Minnesota
// 7.3 kg/m2; Harlow Carr 43, Minnesota 88 min/m2; Sheffield 24 min/kg). A plan
// that promises more than the best of them, or far less work, is wrong.
func TestDemoYearBesidePublishedGardens(t *testing.T) {
	planned := planDemo(t)
	totals := planned.Year.Totals
	if totals.KgPerM2 < 1.0 || totals.KgPerM2 > 7.3 {
		t.Errorf("%.1f kg/m2; published whole gardens give 1.0 to 7.3", totals.KgPerM2)
	}
	if totals.MinPerM2 < 43*0.75 || totals.MinPerM2 > 88*1.25 {
		t.Errorf("%.0f min/m2; published whole gardens take 43 to 88", totals.MinPerM2)
	}
	if totals.MinPerKg < 24*0.6 || totals.MinPerKg > 24*1.4 {
		t.Errorf("%.0f min/kg; 163 allotment diaries took 24 on the mean", totals.MinPerKg)
	}
}

func planDemo(t *testing.T) *Planned {
	t.Helper()
	catalogue := testCatalogue(t)
	rec, err := normals.BuiltIn(normals.MildMaritime)
	if err != nil {
		t.Fatal(err)
	}
	w, err := Prepare(rec, catalogue)
	if err != nil {
		t.Fatal(err)
	}
	planned, err := w.Plan(context.Background(), PlanQuestion{
		Garden: garden.Demo(), From: calendar.On(2027, 1, 4), Iterations: 600, Seed: 1,
	}, catalogue)
	if err != nil {
		t.Fatal(err)
	}
	return planned
}

// The same question gives the same plan.
func TestSameSeedSamePlan(t *testing.T) {
	a, b := planDemo(t), planDemo(t)
	if a.Result.Value != b.Result.Value || len(a.Result.Plantings) != len(b.Result.Plantings) {
		t.Errorf("%g in %d plantings, then %g in %d", a.Result.Value, len(a.Result.Plantings), b.Result.Value, len(b.Result.Plantings))
	}
}

// A plan made before is told again when the file is opened again, and as far as
// it fits once the garden has changed.
func TestPlanOutlastsTheProgram(t *testing.T) {
	ctx := context.Background()
	catalogue := testCatalogue(t)
	path := filepath.Join(t.TempDir(), "g.haulm")
	file, err := store.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	desk, err := OpenDesk(ctx, file, catalogue, testNow)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := desk.Garden(); !errors.Is(err, ErrNoGarden) {
		t.Errorf("an empty file said %v", err)
	}
	if _, err := desk.MakePlan(ctx, calendar.None, 1, 1, nil); !errors.Is(err, ErrNoGarden) {
		t.Errorf("planning nothing said %v", err)
	}
	if err := desk.SaveGarden(garden.Demo()); err != nil {
		t.Fatal(err)
	}
	if _, err := desk.Planned(); !errors.Is(err, ErrNoPlan) {
		t.Errorf("before any plan: %v", err)
	}
	made, err := desk.MakePlan(ctx, calendar.None, 0.5, 1, nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := file.Close(); err != nil {
		t.Fatal(err)
	}

	again, err := store.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	desk, err = OpenDesk(ctx, again, catalogue, testNow)
	if err != nil {
		t.Fatal(err)
	}
	told, err := desk.Planned()
	if err != nil {
		t.Fatal(err)
	}
	if told.Result.Value != made.Result.Value || len(told.Year.Plantings) != len(made.Year.Plantings) {
		t.Errorf("the plan came back worth %g in %d plantings, was %g in %d",
			told.Result.Value, len(told.Year.Plantings), made.Result.Value, len(made.Year.Plantings))
	}
	g := garden.Demo()
	g.Places[0].SunHours = 2
	if err := desk.SaveGarden(g); err != nil {
		t.Fatal(err)
	}
	left, err := desk.Planned()
	if err != nil {
		t.Fatal(err)
	}
	if len(left.Unfit) == 0 || left.Result.Bound != 0 || len(left.Unfit)+len(left.Result.Plantings) != len(made.Result.Plantings) {
		t.Errorf("in shade %d plantings stay and %d do not fit, of %d; bound %g", len(left.Result.Plantings), len(left.Unfit), len(made.Result.Plantings), left.Result.Bound)
	}
	for _, u := range left.Unfit {
		if u.Place != g.Places[0].Name || !strings.Contains(u.Why, "2 hours of sun") {
			t.Errorf("%s in %s does not fit: %s", u.Name, u.Place, u.Why)
		}
	}
}

func TestNextSeason(t *testing.T) {
	for _, c := range []struct {
		today string
		south bool
		want  string
	}{
		{"2026-11-25", false, "2027-01-04"}, {"2027-01-02", false, "2027-01-04"}, {"2026-06-10", false, "2026-06-08"},
		{"2026-05-20", true, "2026-07-06"}, {"2026-11-25", true, "2026-11-23"},
	} {
		today, _ := calendar.Parse(c.today)
		if got := NextSeason(today, c.south).String(); got != c.want {
			t.Errorf("a plan made on %s, south %v, begins %s, want %s", c.today, c.south, got, c.want)
		}
	}
}

// The demonstration's plan: laying out, searching for three seconds, telling.
func BenchmarkDemoPlan(b *testing.B) {
	catalogue := testCatalogue(b)
	rec, err := normals.BuiltIn(normals.MildMaritime)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		w, err := Prepare(rec, catalogue)
		if err != nil {
			b.Fatal(err)
		}
		planned, err := w.Plan(context.Background(), PlanQuestion{Garden: garden.Demo(), From: calendar.On(2027, 1, 4), Seconds: 3, Seed: 1}, catalogue)
		if err != nil {
			b.Fatal(err)
		}
		if broken := plan.Validate(planned.Lay.Problem, planned.Result.Plantings); len(broken) > 0 {
			b.Fatal(broken)
		}
		b.ReportMetric(planned.Result.Value, "portions")
		b.ReportMetric(100*planned.Result.Gap, "%gap")
	}
}
