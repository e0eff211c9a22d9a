package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	parser "github.com/arran4/golang-ical"
)

// onDay runs a command line on another day than the tests' usual one.
func onDay(day time.Time, args ...string) outcome {
	var out, errs bytes.Buffer
	code := Run(context.Background(), args, World{Out: &out, Err: &errs, In: strings.NewReader(""), Now: func() time.Time { return day }})
	return outcome{code, out.String(), errs.String()}
}

var (
	inApril  = time.Date(2027, 4, 12, 7, 0, 0, 0, time.UTC)
	inAugust = time.Date(2027, 8, 20, 7, 0, 0, 0, time.UTC)
)

// seasonGarden is the demonstration garden in a file, without a plan, a bed
// more in it called "Bed 2".
func seasonGarden(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "garden", "data", "demo.toml"))
	if err != nil {
		t.Fatal(err)
	}
	more := string(text) + "\n[[place]]\nname = \"Bed 2\"\nkind = \"bed\"\nlength_m = 4\nwidth_m = 1.2\nsun_hours = 7\n"
	path := filepath.Join(t.TempDir(), "g.haulm")
	if got := haulm("--garden", path, "import", write(t, "garden.toml", more)); got.code != exitOK {
		t.Fatal(got.err)
	}
	return path
}

func TestNoteWritesUndoesAndLists(t *testing.T) {
	at := seasonGarden(t)
	for _, line := range []string{"planted 4 courgettes bed 2 28 May", "picked 800 g courgettes bed 2", "rain 12 mm yesterday", "low -2"} {
		if got := onDay(inAugust, "--garden", at, "note", line); got.code != exitOK {
			t.Fatalf("%q: %s", line, got.err)
		}
	}
	list := onDay(inAugust, "--garden", at, "note", "--list")
	for _, want := range []string{"28 May 2027: planted 4 Courgette, Bed 2", "20 August 2027: picked 800 g Courgette, Bed 2", "19 August 2027: rain 12 mm", "low −2 °C"} {
		if !strings.Contains(list.out, want) {
			t.Errorf("the diary lacks %q:\n%s", want, list.out)
		}
	}
	if got := onDay(inAugust, "--garden", at, "note", "--undo"); !strings.Contains(got.out, "taken out again: 20 August 2027: low") {
		t.Errorf("undo: %+v", got)
	}
	got := onDay(inAugust, "--garden", at, "today", "--json")
	var state struct {
		Plantings []struct {
			Crop     string  `json:"crop"`
			PickedKg float64 `json:"picked_kg"`
			Stage    string  `json:"stage"`
		} `json:"plantings"`
	}
	if err := json.Unmarshal([]byte(got.out), &state); err != nil {
		t.Fatalf("%v in %q", err, got.out)
	}
	found := false
	for _, p := range state.Plantings {
		found = found || p.Crop == "courgette" && p.PickedKg == 0.8 && p.Stage == "being picked"
	}
	if !found {
		t.Errorf("the courgettes noted do not stand: %+v", state.Plantings)
	}
}

func TestTodayFillAndCalendar(t *testing.T) {
	at := seasonGarden(t)
	today := onDay(inApril, "--garden", at, "today", "--all")
	for _, want := range []string{"Monday 12 April 2027", "Today, in 50 minutes", "Standing", "garlic"} {
		if !strings.Contains(today.out, want) {
			t.Errorf("today lacks %q:\n%s%s", want, today.out, today.err)
		}
	}
	fill := onDay(inApril, "--garden", at, "fill", "bed 2", "--from-cm", "0", "--to-cm", "120")
	if fill.code != exitOK || !strings.Contains(fill.out, "Bed 2, 0.0 to 1.2 m, is free") || !strings.Contains(fill.out, "times in 10, first picking ") {
		t.Errorf("fill: %+v", fill)
	}
	ics := filepath.Join(t.TempDir(), "jobs.ics")
	first := calendarAt(t, at, ics, inApril)
	again := calendarAt(t, at, ics, inApril)
	if len(first) == 0 || len(first) != len(again) {
		t.Fatalf("%d entries, then %d", len(first), len(again))
	}
	for uid, e := range again {
		if first[uid] != e {
			t.Errorf("nothing happened, yet %s went from %v to %v", uid, first[uid], e)
		}
	}
	if got := onDay(inApril, "--garden", at, "note", "cleared parsnips well bed"); got.code != exitOK {
		t.Fatal(got.err)
	}
	cancelled := 0
	for uid, e := range calendarAt(t, at, ics, inApril) {
		if strings.Contains(e, "CANCELLED") {
			cancelled++
			if _, was := first[uid]; !was {
				t.Errorf("%s is cancelled and was never told", uid)
			}
		}
	}
	if cancelled == 0 {
		t.Error("what was cleared is not taken back from the calendar")
	}
}

// calendarAt writes the calendar and reads it with a third-party parser: by
// UID, what changes with an update.
func calendarAt(t *testing.T, garden, path string, day time.Time) map[string]string {
	t.Helper()
	if got := onDay(day, "--garden", garden, "calendar", path); got.code != exitOK {
		t.Fatal(got.err)
	}
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	parsed, err := parser.ParseCalendar(f)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, e := range parsed.Events() {
		words := ""
		for _, name := range []parser.ComponentProperty{parser.ComponentPropertySequence, parser.ComponentPropertyStatus, parser.ComponentPropertySummary, parser.ComponentPropertyDtStart} {
			if p := e.GetProperty(name); p != nil {
				words += p.Value + "|"
			}
		}
		if _, twice := out[e.Id()]; twice {
			t.Errorf("%s stands twice", e.Id())
		}
		out[e.Id()] = words
	}
	return out
}

// Hours given once are kept, and the rules of disease go by them from then on.
func TestTodayKeepsHours(t *testing.T) {
	at := seasonGarden(t)
	hourly := func(args ...string) bool {
		t.Helper()
		got := onDay(inApril, append([]string{"--garden", at, "today", "--json"}, args...)...)
		var state struct {
			Hourly bool `json:"hourly"`
		}
		if err := json.Unmarshal([]byte(got.out), &state); err != nil {
			t.Fatalf("%v in %+v", err, got)
		}
		return state.Hourly
	}
	if hourly() {
		t.Error("there are hours before any were given")
	}
	csv := "date,temp_c,rh_pct,rain_mm\n"
	for h := range 5 * 24 {
		csv += time.Date(2027, 4, 6, 1, 0, 0, 0, time.UTC).Add(time.Duration(h)*time.Hour).Format("2006-01-02T15:04") + ",9.5,88,0\n"
	}
	if !hourly("--hours", write(t, "hours.csv", csv)) || !hourly() {
		t.Error("the hours given are not gone by, or not kept")
	}
}

func TestSeasonCommandsRefuseBadInputInOneLine(t *testing.T) {
	at := seasonGarden(t)
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"note", ""}, "empty"},
		{[]string{"note", "pickd 3 courgettes"}, `did you mean "picked"`},
		{[]string{"note", "picked 900 kg radish bed 2"}, "more than"},
		{[]string{"note", "picked 1 kg garlic long bed 1 July"}, "1 July 2026"},
		{[]string{"note", "picked 800 g courgettes bed 9"}, "no place is called"},
		{[]string{"note", "--undo"}, "left to undo"},
		{[]string{"today", "--minutes", "-5"}, "--minutes"},
		{[]string{"today", "--day", "soon"}, "--day"},
		{[]string{"today", "--forecast", "nowhere.json"}, "nowhere.json"},
		{[]string{"fill", "Moon bed"}, "the places are"},
		{[]string{"fill", "Bed 2", "--from-cm", "90"}, "--from-cm"},
		{[]string{"fill", "Bed 2", "--from-cm", "0", "--to-cm", "9000"}, "does not lie within"},
		{[]string{"fill", "Long bed", "--from-cm", "0", "--to-cm", "100"}, "stands there"},
		{[]string{"fill"}, "name the place"},
		{[]string{"fill", "--undo"}, "nothing was entered"},
		{[]string{"fill", "Bed 2", "--take", "moonfruit"}, "moonfruit"},
		{[]string{"fill", "Bed 2", "--take", "leek"}, "not among"},
		{[]string{"today", "--hours", "nowhere.csv"}, "nowhere.csv"},
		{[]string{"note", "lost 200 % garlic"}, "give 100 or less"},
		{[]string{"calendar", filepath.Join(t.TempDir(), "no", "such", "folder.ics")}, "writing the calendar"},
	} {
		got := onDay(inApril, append([]string{"--garden", at}, c.args...)...)
		if got.code != exitBad || !strings.Contains(got.err, c.want) || strings.Count(got.err, "\n") != 1 || got.out != "" {
			t.Errorf("haulm %v: %+v, want code 2 and one line with %q", c.args, got, c.want)
		}
	}
}

func TestSeasonCommandsHaveHelpWithAnExample(t *testing.T) {
	for _, name := range []string{"today", "note", "fill", "calendar"} {
		if got := haulm(name, "--help"); got.code != exitOK || !strings.Contains(got.out, "Example: haulm "+name) {
			t.Errorf("haulm %s --help: %+v", name, got)
		}
	}
}
