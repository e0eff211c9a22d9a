package reckoning

import (
	"encoding/json"
	"flag"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/diary"
	"haulm/internal/garden"
)

var update = flag.Bool("update", false, "write the golden files anew")

// golden holds an answer against its file.
func golden(t *testing.T, name string, answer any) {
	t.Helper()
	got, err := json.MarshalIndent(answer, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, append(got, '\n'), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if string(want) != string(got)+"\n" {
		t.Errorf("%s: the answer has changed; read it, and if it is right run the test with -update\n%s", path, got)
	}
}

func TestAnInventedSeasonIsReckoned(t *testing.T) {
	in := invented(t)
	r, err := Reckon(in)
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "year.json", r)
	var again Review
	text, _ := json.Marshal(r)
	if err := json.Unmarshal(text, &again); err != nil {
		t.Fatal(err)
	}
	for i := range r.Changes {
		r.Changes[i].weight = 0 // only orders them
	}
	if !reflect.DeepEqual(*r, again) {
		t.Error("a reckoning read again from its JSON is another")
	}
}

func TestHalfASeasonIsReckoned(t *testing.T) {
	in := invented(t)
	in.Today = on(6, 24)
	for i := range in.Plantings {
		p := &in.Plantings[i]
		p.Alive = p.Key != "old leek" && p.Crop.Key != "beetroot"
	}
	r, err := Reckon(in)
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "half.json", r)
	if r.Whole || r.To != in.Today {
		t.Errorf("whole %v to %s", r.Whole, r.To)
	}
	for _, a := range r.Crops {
		if a.Stands && a.Verdict == NotEarned {
			t.Errorf("%s is judged while it stands: %s", a.Name, a.Why)
		}
	}
}

func TestNextYearOfAnInventedSeason(t *testing.T) {
	in := invented(t)
	n, err := NextYear(in)
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "next.json", n)
	g := n.Apply(in.Garden)
	g.WeatherRef = "built-in:mild-maritime"
	if err := garden.Check(g); err != nil {
		t.Errorf("the next year's garden is unsound: %v", err)
	}
	if !reflect.DeepEqual(in.Garden.Places, g.Places) || len(in.Garden.History) != 1 || len(in.Garden.Standing) != 1 {
		t.Error("the garden handed in was altered")
	}
	if again := n.Apply(g); len(again.History) != len(g.History) {
		t.Errorf("taking the lines twice makes %d lines of history from %d", len(again.History), len(g.History))
	}
}

// The figures of one crop, worked out by hand from the invented diary:
// onions, 2 m of a bed 1.2 m wide from 22 March to 22 August, 6.2 kg; 40
// minutes were noted at planting.
func TestOnionsByHand(t *testing.T) {
	r, err := Reckon(invented(t))
	if err != nil {
		t.Fatal(err)
	}
	onion := accountOf(t, r, "onion_sets")
	weeks := float64(calendar.On(2026, 8, 22)-calendar.On(2026, 3, 22)) / 7
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"m2", onion.AreaM2, 2.4},
		{"m2 weeks", onion.M2Weeks, 2.4 * weeks},
		{"kg", onion.Kg, 6.2},
		{"kg/m2", onion.KgPerM2, 6.2 / 2.4},
		{"minutes noted", onion.NotedMinutes, 40},
		{"minutes/m2", onion.MinutesPerM2, 40 / 2.4},
		{"portions an hour", onion.PortionsPerH, onion.Portions / 40 * 60},
		{"forecast, middling", onion.Forecast.P50, 6},
		{"land, portions a m2 and week", r.LandPortions, 400 / r.GroundM2 / 52},
	} {
		if math.Abs(c.got-c.want) > 1e-9 {
			t.Errorf("%s: %g, want %g", c.what, c.got, c.want)
		}
	}
}

func accountOf(t *testing.T, r *Review, key string) Account {
	t.Helper()
	for _, a := range r.Crops {
		if a.Key == key {
			return a
		}
	}
	t.Fatalf("nothing is told of %s", key)
	return Account{}
}

func TestVerdicts(t *testing.T) {
	const land = 0.5
	for _, c := range []struct {
		name string
		a    Account
		want Verdict
	}{
		{"at the rate of the land", Account{AreaM2: 2, M2Weeks: 40, Portions: 20, Picks: 3}, Earned},
		{"a little below", Account{AreaM2: 2, M2Weeks: 40, Portions: 19, Picks: 3}, About},
		{"at half of it", Account{AreaM2: 2, M2Weeks: 40, Portions: 10, Picks: 3}, About},
		{"below half of it", Account{AreaM2: 2, M2Weeks: 40, Portions: 9, Picks: 3}, NotEarned},
		{"below half of it, standing", Account{AreaM2: 2, M2Weeks: 40, Portions: 9, Picks: 3, Stands: true}, TooEarly},
		{"nothing picked", Account{AreaM2: 2, M2Weeks: 40}, Nothing},
		{"nothing picked yet", Account{AreaM2: 2, M2Weeks: 40, Stands: true}, TooEarly},
		{"not weighed", Account{AreaM2: 2, M2Weeks: 40, Portions: 40, Picks: 3, Unweighed: 2}, Unknown},
		{"ground not known", Account{Portions: 40, Picks: 3}, Unplaced},
	} {
		c.a.judge(land)
		if c.a.Verdict != c.want || c.a.Why == "" {
			t.Errorf("%s: %q (%s), want %q", c.name, c.a.Verdict, c.a.Why, c.want)
		}
	}
	a := Account{AreaM2: 2, M2Weeks: 40, Portions: 40, Picks: 3}
	if a.judge(0); a.Verdict != Unjudged || !strings.Contains(a.Why, "no plan") {
		t.Errorf("without a plan: %q (%s)", a.Verdict, a.Why)
	}
}

func TestNotedMinutes(t *testing.T) {
	for text, want := range map[string]float64{
		"": 0, "25 min": 25, "1 h 20 min": 80, "1.5 hours": 90, "1,5 h": 90, "took 40 minutes with the hoe": 40, "3 minute hoses": 3,
		"2 hens": 0, "min 4": 0, "2 hr": 120, "harvested 12": 0,
	} {
		if got := NotedMinutes(diary.Entry{Kind: diary.Weeded, Text: text}); got != want {
			t.Errorf("%q: %g minutes, want %g", text, got, want)
		}
	}
	if got := NotedMinutes(diary.Entry{Kind: diary.Skipped, Text: "weed 40 min"}); got != 0 {
		t.Errorf("a job waved away counts %g minutes", got)
	}
}

func TestNoDiaryAndNoYear(t *testing.T) {
	in := invented(t)
	in.Diary = nil
	r, err := Reckon(in)
	if err != nil {
		t.Fatal(err)
	}
	if r.Lines != 0 || len(r.Crops) != 0 || len(r.Changes) != 0 {
		t.Errorf("an empty diary told of %d crops and %d changes", len(r.Crops), len(r.Changes))
	}
	n, err := NextYear(in)
	if err != nil {
		t.Fatal(err)
	}
	for _, g := range n.Grown {
		if g.Crop != "leek" && !strings.HasPrefix(g.From, "the plan") {
			t.Errorf("%s is told by %s", g.Crop, g.From)
		}
	}
	if len(n.Grown) < 4 {
		t.Errorf("the plan fills %d lines of the rotation", len(n.Grown))
	}
	in.Year = 2027
	if _, err := Reckon(in); err == nil || !strings.Contains(err.Error(), "has not begun") {
		t.Errorf("a year to come: %v", err)
	}
	if _, err := NextYear(in); err == nil {
		t.Error("a year to come was closed")
	}
}

// The other half of the world: the year runs from July to June.
func TestASouthernYear(t *testing.T) {
	in := invented(t)
	in.Garden.Site.LatDeg = -38
	in.Today = calendar.On(2026, 6, 30)
	in.Year = 2025
	r, err := Reckon(in)
	if err != nil {
		t.Fatal(err)
	}
	if r.From != calendar.On(2025, 7, 1) || r.To != calendar.On(2026, 6, 30) || !r.Whole {
		t.Errorf("reckoned from %s to %s, whole %v", r.From, r.To, r.Whole)
	}
}

// The made-up record's last frosts fall on 8 April of 1997, 9 April of 1998 and
// so on to 6 May of 2025, and on 12 May of 2026.
func TestAFrostIsHeldAgainstTheOtherYears(t *testing.T) {
	for _, c := range []struct {
		out       calendar.Date
		do, count string
	}{
		{on(4, 28), "from 5 May", "in 9 of 30 years"}, // 2018 to 2026
		{on(5, 4), "fleece to hand", "in 3 of 30 years"},
		{on(5, 8), "fleece to hand", "in 1 of 30 years"},
	} {
		in := invented(t)
		for i := range in.Diary {
			if e := &in.Diary[i]; e.Kind == diary.Planted && e.Crop == "courgette" {
				e.Day = c.out
			}
		}
		r, err := Reckon(in)
		if err != nil {
			t.Fatal(err)
		}
		found := false
		for _, change := range r.Changes {
			found = found || strings.Contains(change.Do, c.do) && strings.Contains(change.Numbers, c.count)
		}
		if !found {
			t.Errorf("out on %s: wanted %q with %q among %+v", c.out, c.do, c.count, r.Changes)
		}
	}
}

// A sowing that nobody planned is told by the line that began it, its minutes
// with it, and lines that name a crop alone give theirs to the crop.
func TestWhatNobodyPlanned(t *testing.T) {
	in := invented(t)
	sown := diary.Entry{ID: 900, Kind: diary.Sown, Day: on(5, 2), Crop: "rocket", Place: "Gate bed", Text: "12 min"}
	in.Diary = append(in.Diary, sown, diary.Entry{ID: 901, Kind: diary.Weeded, Day: on(5, 20), Crop: "rocket", Text: "8 min"})
	rocket := in.Catalogue.Crop("rocket")
	place, _ := in.Garden.Place("Gate bed")
	in.Plantings = append(in.Plantings, Planting{Key: "noted/900", BegunBy: 900, Crop: rocket, Class: "mid", Route: rocket.UsualRoute(), Place: place, AreaM2: 1,
		Stood: true, Start: sown.Day, SetOut: calendar.None, Clear: calendar.None, FirstPick: noDates})
	r, err := Reckon(in)
	if err != nil {
		t.Fatal(err)
	}
	if a := accountOf(t, r, "rocket"); a.NotedMinutes != 20 || a.AreaM2 != 1 {
		t.Errorf("%g minutes on %g m2, want 20 on 1", a.NotedMinutes, a.AreaM2)
	}
	n, err := NextYear(in)
	if err != nil {
		t.Fatal(err)
	}
	for _, g := range n.Grown {
		if g.Crop == "rocket" && (g.From != "the diary" || g.ToCM != place.LengthCM()) {
			t.Errorf("the rocket goes into the history as %+v", g)
		}
	}
	if !strings.Contains(strings.Join(n.Notes, "; "), "Where in Gate bed the rocket stood was not noted") {
		t.Errorf("notes: %q", n.Notes)
	}
}
