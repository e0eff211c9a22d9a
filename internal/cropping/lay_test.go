package cropping

import (
	"context"
	"flag"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/garden"
	"haulm/internal/graded"
	"haulm/internal/grow"
	"haulm/internal/normals"
	"haulm/internal/plan"
	"haulm/internal/weather"
)

// world is the catalogue and climate that the tests share; both only read.
type world struct {
	catalogue *crop.Catalogue
	climate   *grow.Climate
}

func newWorld(tb testing.TB) world {
	tb.Helper()
	catalogue, err := crop.Load()
	if err != nil {
		tb.Fatal(err)
	}
	rec, err := normals.BuiltIn(normals.MildMaritime)
	if err != nil {
		tb.Fatal(err)
	}
	mended, _ := weather.Fill(rec, weather.WMORules())
	return world{catalogue, grow.NewClimate(mended, catalogue.Constants)}
}

func (w world) question(g *garden.Garden) Question {
	return Question{Garden: g, Catalogue: w.catalogue, Climate: w.climate, From: calendar.On(2027, 1, 4)}
}

func (w world) lay(tb testing.TB, g *garden.Garden) *Lay {
	tb.Helper()
	l, err := NewLay(w.question(g))
	if err != nil {
		tb.Fatal(err)
	}
	return l
}

// quick is a search short enough for a test and the same on every machine.
func quick(l *Lay) plan.Result {
	return plan.Solve(context.Background(), l.Problem, plan.Options{Seed: 1, Iterations: 300, Threads: 2}, nil)
}

func TestDemoPlanKeepsEveryRule(t *testing.T) {
	l := newWorld(t).lay(t, garden.Demo())
	result := quick(l)
	if len(result.Plantings) < 10 {
		t.Errorf("only %d plantings: the planner found next to nothing", len(result.Plantings))
	}
	if broken := plan.Validate(l.Problem, result.Plantings); len(broken) > 0 {
		t.Errorf("rules broken: %v", broken)
	}
	checkTold(t, l, result)
}

// checkTold holds what is told to a person against the garden, without the
// planner's numbers: nothing overlaps, nothing leaves its place, every date is
// in order and has its reason.
func checkTold(t *testing.T, l *Lay, result plan.Result) {
	t.Helper()
	year, err := l.Tell(result.Plantings, result.Value)
	if err != nil {
		t.Fatal(err)
	}
	for i := range year.Plantings {
		p := &year.Plantings[i]
		place, ok := l.question.Garden.Place(p.Place)
		if !ok || p.FromCM < 0 || p.ToCM > place.LengthCM()+1 || p.FromCM >= p.ToCM {
			t.Errorf("%s in %s from %d to %d cm does not fit its place", p.Crop.Name, p.Place, p.FromCM, p.ToCM)
		}
		if p.Clear <= p.OnGround || !p.Stands && p.OnGround < p.Start {
			t.Errorf("%s: on the ground %s, clear %s", p.Crop.Name, p.OnGround, p.Clear)
		}
		if len(p.Reasons) == 0 {
			t.Errorf("%s on %s has no reason", p.Crop.Name, p.Start)
		} else if want := fmt.Sprintf("the weather alone takes it in %s of %d years", noneOr(p.Lost), len(p.Courses)); !p.Stands && !strings.Contains(p.Reasons[0], want) {
			t.Errorf("%s on %s: %q does not say that %s", p.Crop.Name, p.Start, p.Reasons[0], want)
		}
		for j := range i {
			if q := &year.Plantings[j]; overlap(p, q) {
				t.Errorf("%s and %s stand on the same ground in %s", p.Crop.Name, q.Crop.Name, p.Place)
			}
		}
	}
	checkTable(t, year)
}

func overlap(p, q *Planting) bool {
	return p.Place == q.Place && p.FromCM < q.ToCM && q.FromCM < p.ToCM && p.OnGround < q.Clear && q.OnGround < p.Clear
}

func checkTable(t *testing.T, year *Year) {
	t.Helper()
	for _, w := range year.Table {
		if w.Portions.P10 > w.Portions.P50 || w.Portions.P50 > w.Portions.P90 || w.Portions.P10 < 0 {
			t.Errorf("week of %s: odds out of order %+v", w.Monday, w.Portions)
		}
		if w.Monday.Monday() != w.Monday {
			t.Errorf("%s is not a Monday", w.Monday)
		}
	}
	if year.IdleShare < 0 || year.IdleShare > 1 {
		t.Errorf("idle share %g", year.IdleShare)
	}
}

// What is served over the whole plan is no more than what was picked and lay
// in store.
func TestTheTableEatsNoMoreThanWasPicked(t *testing.T) {
	l := newWorld(t).lay(t, garden.Demo())
	result := quick(l)
	s, err := l.serve(result.Plantings)
	if err != nil {
		t.Fatal(err)
	}
	stored := 0.0
	for _, in := range garden.Demo().InStore {
		stored += in.Kg
	}
	for y := range s.pickedKg {
		if s.wastedKg[y] > s.pickedKg[y]+stored {
			t.Errorf("year %d: %g kg wasted of %g", y, s.wastedKg[y], s.pickedKg[y]+stored)
		}
	}
}

func TestSavedPlanIsFoundAgain(t *testing.T) {
	w := newWorld(t)
	l := w.lay(t, garden.Demo())
	result := quick(l)
	again, unfit := w.lay(t, garden.Demo()).Match(l.Save(result.Plantings))
	if len(unfit) > 0 || len(again) != len(result.Plantings) {
		t.Fatalf("a saved plan of %d plantings came back as %d; unfit %v", len(result.Plantings), len(again), unfit)
	}
	for i := range again {
		if again[i] != result.Plantings[i] {
			t.Errorf("planting %d came back as %+v, was %+v", i, again[i], result.Plantings[i])
		}
	}
	other := garden.Demo()
	other.Places = other.Places[1:]
	other.Standing, other.History, other.Locks = nil, nil, nil
	lost := garden.Demo().Places[0].Name
	some, gone := w.lay(t, other).Match(l.Save(result.Plantings))
	if len(some) == 0 || len(gone) == 0 || len(some)+len(gone) != len(result.Plantings) {
		t.Errorf("without %s %d plantings stay and %d go of %d", lost, len(some), len(gone), len(result.Plantings))
	}
	for _, u := range gone {
		if u.Place != lost || !strings.Contains(u.Why, lost) {
			t.Errorf("%s in %s goes although only %s is gone: %s", u.Name, u.Place, lost, u.Why)
		}
	}
}

func TestLocksKeepADishOut(t *testing.T) {
	g := garden.Demo()
	g.Locks = []garden.Lock{{Dish: "salad leaves"}, {Dish: "carrots", Place: "Long bed"}}
	l := newWorld(t).lay(t, g)
	year, err := l.Tell(quick(l).Plantings, 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range year.Plantings {
		if p.Stands {
			continue
		}
		if p.Crop.Dish == "salad leaves" || p.Crop.Dish == "carrots" && p.Place == "Long bed" {
			t.Errorf("%s is planned in %s although it is locked out", p.Crop.Name, p.Place)
		}
	}
}

func TestGardensThatCannotBePlannedSayWhy(t *testing.T) {
	w := newWorld(t)
	cases := []struct {
		name string
		edit func(*garden.Garden)
		want string
	}{
		{"no places", func(g *garden.Garden) { g.Places, g.Standing = nil, nil }, "no places"},
		{"nothing wanted", func(g *garden.Garden) { g.Wants = nil; g.Standing = nil }, "nothing that the table wants"},
		{"deep shade", func(g *garden.Garden) {
			g.Standing = nil
			for i := range g.Places {
				g.Places[i].SunHours = 0
			}
		}, "sun hours"},
		{"unheard-of dish", func(g *garden.Garden) { g.Wants[0].Dish = "moon melons" }, "moon melons"},
		{"unheard-of cover", func(g *garden.Garden) { g.Places[0].Cover = "marquee" }, "marquee"},
	}
	for _, c := range cases {
		g := garden.Demo()
		c.edit(g)
		_, err := NewLay(w.question(g))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want a word on %q", c.name, err, c.want)
		}
	}
}

func TestShortRecordIsRefused(t *testing.T) {
	w := newWorld(t)
	rec, _ := normals.BuiltIn(normals.MildMaritime)
	short, _ := weather.Fill(rec.Between(rec.Start, rec.Start.Add(3*365)), weather.WMORules())
	q := w.question(garden.Demo())
	q.Climate = grow.NewClimate(short, w.catalogue.Constants)
	if _, err := NewLay(q); err == nil || !strings.Contains(err.Error(), "at least") {
		t.Errorf("three years of weather gave %v", err)
	}
}

// Random gardens: whatever the ground and the wishes, a plan keeps every rule.
func TestRandomGardensKeepEveryRule(t *testing.T) {
	if testing.Short() {
		t.Skip("laying out many gardens takes long under the race detector; it runs without it")
	}
	// Laying one out takes a quarter of a second, so fewer than rapid's usual hundred.
	if err := flag.Set("rapid.checks", "25"); err != nil {
		t.Fatal(err)
	}
	w := newWorld(t)
	rapid.Check(t, func(r *rapid.T) {
		g := randomGarden(r)
		l, err := NewLay(w.question(g))
		if err != nil {
			return // an error is an answer; which ones is tested above
		}
		result := plan.Solve(context.Background(), l.Problem, plan.Options{Seed: 1, Iterations: 60}, nil)
		if broken := plan.Validate(l.Problem, result.Plantings); len(broken) > 0 {
			r.Fatalf("rules broken: %v", broken)
		}
		checkTold(t, l, result)
	})
}

func randomGarden(r *rapid.T) *garden.Garden {
	g := garden.Demo()
	g.Standing, g.History, g.Locks, g.InStore = nil, nil, nil, nil
	g.Places = nil
	for i := range rapid.IntRange(1, 3).Draw(r, "places") {
		g.Places = append(g.Places, garden.Place{
			Name: fmt.Sprint("bed ", i), Kind: garden.Bed, SunHours: rapid.Float64Range(3, 9).Draw(r, "sun"),
			LengthM: rapid.Float64Range(0.3, 6).Draw(r, "length"), WidthM: rapid.Float64Range(0.3, 2).Draw(r, "width"),
		})
	}
	wants := g.Wants
	g.Wants = nil
	for _, i := range rapid.SliceOfNDistinct(rapid.IntRange(0, len(wants)-1), 1, 4, rapid.ID).Draw(r, "wants") {
		g.Wants = append(g.Wants, wants[i])
	}
	g.Household.MinutesPerWeek = rapid.Float64Range(0, 300).Draw(r, "minutes")
	g.Household.IndoorTrays = rapid.Float64Range(0, 6).Draw(r, "trays")
	return g
}

func TestRulesAndYardsticksLoad(t *testing.T) {
	if _, err := loadRules(); err != nil {
		t.Error(err)
	}
	catalogue, err := crop.Load()
	if err != nil {
		t.Fatal(err)
	}
	sticks := yardsticks(catalogue)
	if len(sticks) < 5 || sticks[0].Value != 24 || sticks[0].Unit != "min/kg" || sticks[0].Note == "" {
		t.Errorf("%d yardsticks, the first %+v", len(sticks), sticks[0])
	}
	keys := map[string]bool{}
	for _, s := range catalogue.Sources() {
		keys[s.Key] = true
	}
	for i, row := range graded.MustRows("yardsticks", yardsticksCSV) {
		if key := row.Cells[4]; !keys[key] || sticks[i].Source == key {
			t.Errorf("%s, %s: %s is shown as %q; a source has its row in the catalogue's sources.csv", sticks[i].Name, sticks[i].What, key, sticks[i].Source)
		}
	}
}

// Laying out the demonstration garden: every candidate through every year.
func BenchmarkLay(b *testing.B) {
	w := newWorld(b)
	for b.Loop() {
		if _, err := NewLay(w.question(garden.Demo())); err != nil {
			b.Fatal(err)
		}
	}
}
