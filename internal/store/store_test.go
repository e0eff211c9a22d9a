package store

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"sync"
	"testing"
	"time"

	"pgregory.net/rapid"

	"haulm/internal/calendar"
	"haulm/internal/garden"
	"haulm/internal/weather"
)

var (
	ctx = context.Background()
	now = time.Date(2027, 1, 4, 8, 0, 0, 0, time.UTC)
)

// fresh makes an empty garden file that is closed when the test ends.
func fresh(t *testing.T) *Store {
	t.Helper()
	s, err := Create(filepath.Join(t.TempDir(), "g.haulm"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	return s
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func TestGardenComesBackAfterClosing(t *testing.T) {
	// Signs that mean something in a URI must not in a path.
	path := filepath.Join(t.TempDir(), "new folder", "a #1 50% ü?.haulm")
	s, err := Create(path)
	must(t, err)
	want := garden.Demo()
	must(t, s.SaveGarden(ctx, want, now))
	must(t, s.Close())

	s, err = Open(path)
	must(t, err)
	defer s.Close()
	got, err := s.LoadGarden(ctx)
	must(t, err)
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v\nwant %+v", got, want)
	}
	entries, err := os.ReadDir(filepath.Dir(path))
	must(t, err)
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), filepath.Base(path)) {
			t.Errorf("left behind: %s", e.Name())
		}
	}
}

// soundGarden draws gardens that Check accepts.
func soundGarden(t *rapid.T) *garden.Garden {
	name := rapid.StringMatching(`[a-zA-ZäéО京'"; %_-]{0,20}`)
	number := func(low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, "number") }
	g := &garden.Garden{
		Name: "G" + name.Draw(t, "name"), WeatherRef: "W" + name.Draw(t, "weather"),
		Site: weather.Site{LatDeg: number(-90, 90), LonDeg: number(-180, 180), ElevM: number(-400, 5000)},
		Household: garden.Household{People: rapid.IntRange(1, 30).Draw(t, "people"), PortionsPerDay: number(0, 20),
			MinutesPerWeek: number(0, 10000), IndoorTrays: number(0, 100),
			Experience: rapid.SampledFrom(garden.Experiences()).Draw(t, "experience"), Imperial: rapid.Bool().Draw(t, "imperial")},
	}
	for i := range rapid.IntRange(1, 4).Draw(t, "places") {
		g.Places = append(g.Places, garden.Place{Name: fmt.Sprint(name.Draw(t, "place"), i), Kind: garden.Bed,
			LengthM: number(1, 100), WidthM: number(0.2, 10), SunHours: number(0, 24)})
		g.Wants = append(g.Wants, garden.Want{Dish: fmt.Sprint("d", i), PortionsPerWeek: number(0, 100), Liking: number(0, 2)})
	}
	for i := range rapid.IntRange(0, 5).Draw(t, "planted") {
		place := rapid.SampledFrom(g.Places).Draw(t, "in").Name
		g.History = append(g.History, garden.Grown{Place: place, FromCM: 10 * i, ToCM: 10*i + 10, Crop: "c", Year: 2020 + i})
		standing := garden.Standing{Place: place, FromCM: 10 * i, ToCM: 10*i + 10, Crop: "c", Route: name.Filter(plain).Draw(t, "route"),
			Started: calendar.On(2026, 1, 1).Add(rapid.IntRange(0, 300).Draw(t, "day")), SetOut: calendar.None}
		if rapid.Bool().Draw(t, "raised") {
			standing.SetOut = standing.Started.Add(30)
		}
		g.Standing = append(g.Standing, standing)
		g.Keeps = append(g.Keeps, garden.Keep{Place: place, FromCM: 10 * i, ToCM: 10*i + 10, Crop: "c", Class: "early",
			Start: rapid.SampledFrom([]calendar.Date{calendar.None, calendar.On(2027, 5, 3)}).Draw(t, "kept")})
		g.Locks = append(g.Locks, garden.Lock{Dish: "d0", Place: rapid.SampledFrom([]string{"", place}).Draw(t, "lock")})
	}
	return g
}

func plain(s string) bool { return s == "" || strings.TrimSpace(s) != "" }

func TestEverySoundGardenComesBack(t *testing.T) {
	s := fresh(t)
	rapid.Check(t, func(t *rapid.T) {
		want := soundGarden(t)
		if err := s.SaveGarden(ctx, want, now); err != nil {
			t.Fatal(err)
		}
		got, err := s.LoadGarden(ctx)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("got %+v\nwant %+v", got, want)
		}
	})
}

func TestUnsoundGardenIsNotSaved(t *testing.T) {
	s := fresh(t)
	must(t, s.SaveGarden(ctx, garden.Demo(), now))
	bad := garden.Demo()
	bad.Places[0].LengthM = 10000
	if err := s.SaveGarden(ctx, bad, now); err == nil || !strings.Contains(err.Error(), `place "Long bed": length is 10000`) {
		t.Errorf("got %v", err)
	}
	if got, err := s.LoadGarden(ctx); err != nil || !reflect.DeepEqual(got, garden.Demo()) {
		t.Errorf("the garden before it is gone: %v", err)
	}
}

func TestNothingSavedYet(t *testing.T) {
	s := fresh(t)
	_, gardenErr := s.LoadGarden(ctx)
	_, planErr := s.LoadPlan(ctx)
	_, recordErr := s.LoadRecord(ctx, "x")
	for _, err := range []error{gardenErr, planErr, recordErr, s.DropHours(ctx, "x"), s.RestoreRevision(ctx, 7, now)} {
		if KindOf(err) != Missing {
			t.Errorf("got %v, want one of kind missing", err)
		}
	}
	if v, err := s.Setting(ctx, "x"); v != "" || err != nil {
		t.Errorf("setting: %q, %v", v, err)
	}
}

func TestRevisionsUndoABadEdit(t *testing.T) {
	s := fresh(t)
	first := garden.Demo()
	must(t, s.SaveGarden(ctx, first, now))
	must(t, s.SaveGarden(ctx, first, now.Add(time.Hour))) // no change, no revision
	second := garden.Demo()
	second.Places = second.Places[:1]
	second.History, second.Standing, second.Locks = nil, nil, nil
	must(t, s.SaveGarden(ctx, second, now.Add(2*time.Hour)))

	revisions, err := s.Revisions(ctx)
	must(t, err)
	if len(revisions) != 1 || !revisions[0].ReplacedAt.Equal(now.Add(2*time.Hour)) {
		t.Fatalf("got %+v", revisions)
	}
	must(t, s.RestoreRevision(ctx, revisions[0].ID, now.Add(3*time.Hour)))
	if got, err := s.LoadGarden(ctx); err != nil || !reflect.DeepEqual(got, first) {
		t.Errorf("not restored: %v", err)
	}
	revisions, err = s.Revisions(ctx)
	must(t, err)
	if got, err := s.RevisionGarden(ctx, revisions[0].ID); err != nil || !reflect.DeepEqual(got, second) {
		t.Errorf("the restoring cannot itself be undone: %v", err)
	}
}

func TestOnlyTheLastRevisionsAreKept(t *testing.T) {
	s := fresh(t)
	g := garden.Demo()
	for i := range revisionsKept + 5 {
		g.Household.MinutesPerWeek = float64(i)
		must(t, s.SaveGarden(ctx, g, now))
	}
	revisions, err := s.Revisions(ctx)
	must(t, err)
	oldest, err := s.RevisionGarden(ctx, revisions[len(revisions)-1].ID)
	must(t, err)
	if len(revisions) != revisionsKept || oldest.Household.MinutesPerWeek != 4 {
		t.Errorf("%d revisions, the oldest with %g minutes", len(revisions), oldest.Household.MinutesPerWeek)
	}
}

// record is three weeks of made-up weather with holes.
func record() *weather.Record {
	r := &weather.Record{Station: "T1", Name: "Upper field", Source: "made up", Estimated: true,
		Site: weather.Site{LatDeg: 53.4, LonDeg: -6.3, ElevM: 60}, Start: calendar.On(2020, 2, 20)}
	for i := range 21 {
		r.TminC = append(r.TminC, float64(i)/3-2)
		r.TmaxC = append(r.TmaxC, float64(i)/3+7.1)
		r.RainMM = append(r.RainMM, float64(i%4))
	}
	r.TminC[5], r.RainMM[9] = math.NaN(), math.NaN()
	return r
}

func TestRecordComesBack(t *testing.T) {
	s := fresh(t)
	want := record()
	must(t, s.SaveRecord(ctx, "field.csv", want))
	got, err := s.LoadRecord(ctx, "field.csv")
	must(t, err)
	if err := sameRecord(got, want); err != nil {
		t.Error(err)
	}
	infos, err := s.Records(ctx)
	must(t, err)
	if len(infos) != 1 || infos[0].Name != "field.csv" || infos[0].Days != 21 || infos[0].Start != want.Start ||
		infos[0].Title != "Upper field" || !infos[0].Estimated || len(infos[0].SHA256) != 64 {
		t.Errorf("listed as %+v", infos)
	}
}

func sameRecord(got, want *weather.Record) error {
	for name, pair := range map[string][2][]float64{
		"tmin": {got.TminC, want.TminC}, "tmax": {got.TmaxC, want.TmaxC}, "rain": {got.RainMM, want.RainMM}, "sun": {got.SunMJ, want.SunMJ},
	} {
		if i := firstDifference(pair[0], pair[1]); i >= 0 {
			return fmt.Errorf("%s differs at day %d", name, i)
		}
	}
	if got.Start != want.Start || got.Name != want.Name || got.Station != want.Station || got.Source != want.Source ||
		got.Estimated != want.Estimated || got.Site != want.Site {
		return fmt.Errorf("got %+v", got)
	}
	return nil
}

func TestDamagedRecordIsNotUsed(t *testing.T) {
	s := fresh(t)
	must(t, s.SaveRecord(ctx, "field", record()))
	_, err := s.write.Exec("UPDATE weather_record SET csv_gz = zeroblob(100)")
	must(t, err)
	if _, err := s.LoadRecord(ctx, "field"); KindOf(err) != Damaged {
		t.Errorf("got %v", err)
	}
	must(t, s.SaveRecord(ctx, "field", record()))
	_, err = s.write.Exec("UPDATE weather_record SET sha256 = 'other'")
	must(t, err)
	if _, err := s.LoadRecord(ctx, "field"); KindOf(err) != Damaged {
		t.Errorf("got %v", err)
	}
}

func TestRecordThatWouldChangeIsRefused(t *testing.T) {
	s := fresh(t)
	for name, spoil := range map[string]func(*weather.Record){
		"impossible day": func(r *weather.Record) { r.TminC[3] = r.TmaxC[3] + 5 },
		"ragged":         func(r *weather.Record) { r.RainMM = r.RainMM[:20] },
	} {
		t.Run(name, func(t *testing.T) {
			r := record()
			spoil(r)
			defer func() {
				if recover() != nil {
					t.Error("panicked")
				}
			}()
			if err := s.SaveRecord(ctx, "bad", r); err == nil {
				t.Error("kept")
			}
		})
	}
	if err := s.SaveRecord(ctx, " ", record()); err == nil {
		t.Error("kept without a name")
	}
}

func TestPlanAndSettings(t *testing.T) {
	s := fresh(t)
	want := Plan{MadeOn: calendar.On(2027, 1, 4), Seed: -1 << 63, ProblemHash: "abc", JSON: []byte(`{"value":1.5}`)}
	must(t, s.SavePlan(ctx, Plan{MadeOn: want.MadeOn, JSON: []byte("1")}, now))
	must(t, s.SavePlan(ctx, want, now))
	if got, err := s.LoadPlan(ctx); err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v, %v", got, err)
	}
	if err := s.SavePlan(ctx, Plan{MadeOn: want.MadeOn, JSON: []byte("{")}, now); err == nil {
		t.Error("broken JSON was kept")
	}
	if err := s.SavePlan(ctx, Plan{MadeOn: calendar.None, JSON: []byte("{}")}, now); err == nil {
		t.Error("a plan of no day was kept")
	}
	must(t, s.SetSetting(ctx, "language", "en"))
	must(t, s.SetSetting(ctx, "language", "fr"))
	if v, err := s.Setting(ctx, "language"); v != "fr" || err != nil {
		t.Errorf("setting: %q, %v", v, err)
	}
	must(t, s.SetSetting(ctx, "language", ""))
	if v, _ := s.Setting(ctx, "language"); v != "" {
		t.Errorf("not forgotten: %q", v)
	}
}

func TestBackup(t *testing.T) {
	s := fresh(t)
	must(t, s.SaveGarden(ctx, garden.Demo(), now))
	to := filepath.Join(t.TempDir(), "it's a backup.haulm")
	must(t, s.backup(ctx, to))
	b, err := Open(to)
	must(t, err)
	defer b.Close()
	if got, err := b.LoadGarden(ctx); err != nil || !reflect.DeepEqual(got, garden.Demo()) {
		t.Errorf("the backup holds something else: %v", err)
	}
	if err := s.backup(ctx, to); KindOf(err) != Exists {
		t.Errorf("over an existing file: %v", err)
	}
	if err := s.backup(ctx, filepath.Join(t.TempDir(), "none", "b.haulm")); err == nil {
		t.Error("into a folder that is not there")
	}
}

func TestTwoWritersAtOnce(t *testing.T) {
	a := fresh(t)
	b, err := Open(a.Path())
	must(t, err)
	defer b.Close()
	const each = 15
	var wg sync.WaitGroup
	errs := make(chan error, 8*each)
	for n, s := range []*Store{a, b, a, b} {
		wg.Go(func() {
			g := garden.Demo()
			for i := range each {
				g.Household.MinutesPerWeek = float64(100*n + i)
				errs <- s.SaveGarden(ctx, g, now)
				got, err := s.LoadGarden(ctx)
				if err == nil && len(got.Places) != 8 {
					err = fmt.Errorf("a half-written garden of %d places", len(got.Places))
				}
				errs <- err
			}
		})
	}
	wg.Wait()
	close(errs)
	for err := range errs {
		must(t, err)
	}
	fromA, err := a.LoadGarden(ctx)
	must(t, err)
	fromB, err := b.LoadGarden(ctx)
	must(t, err)
	if !reflect.DeepEqual(fromA, fromB) {
		t.Error("the two see different gardens")
	}
	if revisions, err := a.Revisions(ctx); err != nil || len(revisions) != min(revisionsKept, 4*each-1) {
		t.Errorf("%d revisions: %v", len(revisions), err)
	}
}
