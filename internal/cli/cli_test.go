package cli

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"haulm/internal/app"
	"haulm/internal/calendar"
	"haulm/internal/garden"
)

// outcome is what a command line left behind.
type outcome struct {
	code     int
	out, err string
}

func haulm(args ...string) outcome {
	var out, errs bytes.Buffer
	code := Run(context.Background(), args, World{
		Out: &out, Err: &errs, In: strings.NewReader(""),
		Now: func() time.Time { return time.Date(2026, 11, 25, 8, 0, 0, 0, time.UTC) },
	})
	return outcome{code, out.String(), errs.String()}
}

// write puts a file into the test's folder.
func write(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// years is a made-up record in plain CSV: cold winters, warm summers, no rain.
func years(from, to int) string {
	return yearsIn(from, to, func(tempC float64) float64 { return tempC })
}

// inFahrenheit makes °F of °C.
func inFahrenheit(tempC float64) float64 { return tempC*9/5 + 32 }

// yearsIn is years with its temperatures in another unit, whatever its header
// says.
func yearsIn(from, to int, unit func(tempC float64) float64) string {
	var b strings.Builder
	b.WriteString("# lat: 50\n# lon: 5\ndate,tmin_c,tmax_c,rain_mm\n")
	for d := calendar.On(from, 1, 1); d < calendar.On(to+1, 1, 1); d++ {
		warm := 9 - 10*cosYear(d.YearDay())
		fmt.Fprintf(&b, "%s,%.1f,%.1f,0.0\n", d, unit(warm-5), unit(warm+5))
	}
	return b.String()
}

func cosYear(day int) float64 {
	// A triangle wave is season enough: -1 at midsummer, 1 at midwinter.
	x := float64(day-15) / 182.5
	if x > 1 {
		x = 2 - x
	}
	return 1 - 2*x
}

// Every command's help names an example, and help is no error.
func TestEveryCommandHasHelpWithAnExample(t *testing.T) {
	for _, name := range []string{"demo", "serve", "plan", "ask worth", "ask shortlist", "lock keep", "today", "note", "fill", "calendar", "year", "frost", "place", "grow", "crops", "record", "import", "export", "solve"} {
		got := haulm(append(strings.Fields(name), "--help")...)
		if got.code != exitOK || !strings.Contains(got.out, "Example: haulm "+name) {
			t.Errorf("haulm %s --help: code %d, no example in:\n%s", name, got.code, got.out)
		}
	}
}

// Bad input gets one clear line on stderr, exit code 2 and nothing on stdout.
func TestBadInputGetsOneClearLine(t *testing.T) {
	record := write(t, "good.csv", years(2001, 2012))
	var packed bytes.Buffer
	zip := gzip.NewWriter(&packed)
	_, _ = zip.Write([]byte(years(2001, 2012)))
	_ = zip.Close()
	cases := []struct {
		name string
		args []string
		want string
	}{
		{"unknown command", []string{"dig"}, "dig"},
		{"unknown flag", []string{"frost", "--recrod", record}, "--rec"},
		{"no record and no place", []string{"frost"}, "--record"},
		{"half a place", []string{"frost", "--lat", "53"}, "--lon"},
		{"missing record", []string{"frost", "--record", "nowhere.csv"}, "nowhere.csv"},
		{"empty record", []string{"frost", "--record", write(t, "empty.csv", "")}, "empty.csv"},
		{"truncated record", []string{"frost", "--record", write(t, "cut.csv.gz", packed.String()[:packed.Len()/2])}, "cut.csv.gz"},
		{"binary record", []string{"frost", "--record", write(t, "noise.csv", "\x00\x01\x02\xff\xfe"+strings.Repeat("\x00", 600))}, "noise.csv"},
		{"°F under a °C header", []string{"frost", "--record", write(t, "warm.csv", yearsIn(2001, 2003, inFahrenheit))}, "warm.csv"},
		{"no units", []string{"frost", "--record", write(t, "bare.csv", "date,tmin,tmax\n2001-01-01,1,2\n")}, "tmin_c"},
		{"future record", []string{"frost", "--record", write(t, "future.csv", "date,tmin_c,tmax_c,rain_mm\n2031-01-01,1,2,0\n")}, "2031"},
		{"latitude off the Earth", []string{"frost", "--record", record, "--lat", "95"}, "latitude"},
		{"years the wrong way round", []string{"frost", "--record", record, "--from", "2010", "--to", "2001"}, "--from"},
		{"crop nobody has heard of", []string{"grow", "--crop", "moonfruit", "--start", "05-01", "--record", record}, "moonfruit"},
		{"start that is no day", []string{"grow", "--crop", "leek", "--start", "13-45", "--record", record}, "--start"},
		{"route it has not", []string{"grow", "--crop", "garlic", "--route", "drilled", "--start", "10-20", "--record", record}, "cloves"},
		{"class it has not", []string{"grow", "--crop", "leek", "--class", "blue", "--start", "04-01", "--record", record}, "blue"},
		{"cover nobody makes", []string{"grow", "--crop", "leek", "--cover", "marquee", "--start", "04-01", "--record", record}, "marquee"},
		{"set out what is drilled", []string{"grow", "--crop", "carrot", "--route", "drilled", "--set-out", "05-01", "--start", "04-01", "--record", record}, "--set-out"},
		{"years not on record", []string{"grow", "--crop", "leek", "--start", "04-01", "--from", "1901", "--to", "1902", "--record", record}, "1901"},
		{"no such problem", []string{"solve", "nowhere.json"}, "nowhere.json"},
		{"problem that is none", []string{"solve", write(t, "p.json", `{"T":`)}, "p.json"},
		{"no time to solve", []string{"solve", "--seconds", "0", record}, "--seconds"},
		{"garden that is not one", []string{"--garden", write(t, "g.haulm", "not a database at all, but long enough to look like something"), "plan"}, "g.haulm"},
		{"no garden yet", []string{"--garden", filepath.Join(t.TempDir(), "none.haulm"), "plan"}, "none.haulm"},
		{"import of nothing", []string{"--garden", filepath.Join(t.TempDir(), "a.haulm"), "import", "nowhere.toml"}, "nowhere.toml"},
		{"import of a misspelt key", []string{"--garden", filepath.Join(t.TempDir(), "b.haulm"), "import",
			write(t, "m.toml", strings.Replace(garden.DemoText, "sun_hours = 7.5", "sun_huors = 7.5", 1))}, "sun_hours"},
		{"bed of 0 m", []string{"--garden", filepath.Join(t.TempDir(), "c.haulm"), "import",
			write(t, "zero.toml", strings.Replace(garden.DemoText, "length_m = 7.2", "length_m = 0", 1))}, "Long bed"},
		{"bed of 10,000 m", []string{"--garden", filepath.Join(t.TempDir(), "d.haulm"), "import",
			write(t, "long.toml", strings.Replace(garden.DemoText, "length_m = 7.2", "length_m = 10000", 1))}, "Long bed"},
		{"dish nobody has heard of", []string{"--garden", filepath.Join(t.TempDir(), "e.haulm"), "import",
			write(t, "dish.toml", strings.Replace(garden.DemoText, `dish = "leeks"`, `dish = "leaks"`, 1))}, "leeks"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got := haulm(c.args...)
			line := strings.TrimSuffix(got.err, "\n")
			if got.code != exitBad || got.out != "" || !strings.HasPrefix(line, "haulm: ") || strings.Contains(line, "\n") || !strings.Contains(line, c.want) {
				t.Errorf("code %d\nout %q\nerr %q\nwant one line with %q", got.code, got.out, got.err, c.want)
			}
		})
	}
}

// A 40-year hole, days given twice and days that cannot be are told, left out
// and do no harm.
func TestRaggedRecordIsReadAndSaysSo(t *testing.T) {
	text := years(1970, 1971) + strings.TrimPrefix(years(2011, 2020), "# lat: 50\n# lon: 5\ndate,tmin_c,tmax_c,rain_mm\n")
	text += "2020-12-31,1.0,2.0,0.0\n" // a second time, and otherwise
	text = strings.Replace(text, "2015-06-01,", "2015-06-01,55.0,", 1)
	path := write(t, "ragged.csv", text)
	got := haulm("record", path, "--json")
	if got.code != exitOK {
		t.Fatalf("%+v", got)
	}
	var answer struct {
		Duplicates int `json:"duplicates"`
		Rejected   int `json:"rejected"`
		Lines      []struct {
			Line int    `json:"line"`
			What string `json:"what"`
		} `json:"rejected_lines"`
	}
	if err := json.Unmarshal([]byte(got.out), &answer); err != nil {
		t.Fatal(err)
	}
	if answer.Duplicates < 1 || answer.Rejected < 1 || answer.Lines[0].Line < 4 {
		t.Errorf("%+v", answer)
	}
}

func TestFrostAnswersWithTheKeysReliedOn(t *testing.T) {
	got := haulm("frost", "--record", write(t, "r.csv", years(2001, 2012)), "--json")
	var answer map[string]any
	if err := json.Unmarshal([]byte(got.out), &answer); err != nil || got.code != exitOK {
		t.Fatalf("%v %+v", err, got)
	}
	for _, key := range []string{"years", "years_without_frost", "last_spring", "first_autumn", "estimated"} {
		if _, ok := answer[key]; !ok {
			t.Errorf("no %q in %s", key, got.out)
		}
	}
	for _, half := range []string{"last_spring", "first_autumn"} {
		for _, p := range []string{"p10", "p50", "p90"} {
			if _, ok := answer[half].(map[string]any)[p].(string); !ok {
				t.Errorf("%s has no %s in %s", half, p, got.out)
			}
		}
	}
}

func TestGrowAnswersWithTheKeysReliedOn(t *testing.T) {
	got := haulm("grow", "--crop", "zucchini", "--start", "05-12", "--set-out", "06-05", "--record", write(t, "r.csv", years(2001, 2006)), "--json")
	var answer struct {
		Crop  string           `json:"crop"`
		Route string           `json:"route"`
		Years []map[string]any `json:"years"`
		First map[string]any   `json:"first_pick"`
	}
	if err := json.Unmarshal([]byte(got.out), &answer); err != nil || got.code != exitOK {
		t.Fatalf("%v %+v", err, got)
	}
	if answer.Crop != "courgette" || len(answer.Years) != 6 || len(answer.First) != 3 {
		t.Errorf("%s", got.out)
	}
	for _, key := range []string{"year", "start", "emergence", "transplant", "first_pick", "last_pick", "kg_per_plant", "kg_per_m2", "mishap"} {
		if _, ok := answer.Years[0][key]; !ok {
			t.Errorf("a year has no %q: %v", key, answer.Years[0])
		}
	}
	if answer.Years[0]["transplant"] != "2001-06-05" {
		t.Errorf("set out on %v, was told 5 June", answer.Years[0]["transplant"])
	}
}

// A record of part of a year serves as far as it goes.
func TestPartOfAYearServesAsFarAsItGoes(t *testing.T) {
	text := years(2001, 2001)
	cut := strings.Index(text, "2001-05-20")
	got := haulm("grow", "--crop", "potato", "--start", "03-29", "--record", write(t, "r.csv", text[:cut]), "--json")
	var answer struct {
		Years []struct {
			Emergence *string `json:"emergence"`
			FirstPick *string `json:"first_pick"`
		} `json:"years"`
	}
	if err := json.Unmarshal([]byte(got.out), &answer); err != nil || got.code != exitOK {
		t.Fatalf("%v %+v", err, got)
	}
	if len(answer.Years) != 1 || answer.Years[0].Emergence == nil || answer.Years[0].FirstPick != nil {
		t.Errorf("%s", got.out)
	}
}

// A garden goes in as text, is planned, and comes out as the same text.
func TestGardenGoesInIsPlannedAndComesOut(t *testing.T) {
	folder := t.TempDir()
	file := filepath.Join(folder, "g.haulm")
	if got := haulm("--garden", file, "import", write(t, "demo.toml", garden.DemoText)); got.code != exitOK {
		t.Fatalf("%+v", got)
	}
	got := haulm("--garden", file, "plan", "--seconds", "1", "--json")
	var answer map[string]any
	if err := json.Unmarshal([]byte(got.out), &answer); err != nil || got.code != exitOK {
		t.Fatalf("%v %+v", err, got.err)
	}
	for _, key := range []string{"value", "plantings", "weeks", "idle_share"} {
		if _, ok := answer[key]; !ok {
			t.Errorf("no %q in the plan", key)
		}
	}
	planting := answer["plantings"].([]any)[0].(map[string]any)
	for _, key := range []string{"crop", "class", "route", "place", "from_cm", "to_cm", "start", "first_pick", "clear", "plants", "kg"} {
		if _, ok := planting[key]; !ok {
			t.Errorf("no %q in a planting", key)
		}
	}
	if got := haulm("--garden", file, "export"); got.out != garden.DemoText {
		t.Errorf("what came out is not what went in:\n%s", got.out)
	}
}

// A garden with a record of its own comes out as two files that make the same
// garden again, and nothing is written over.
func TestExportWithItsRecordMakesTheSameGardenAgain(t *testing.T) {
	folder := t.TempDir()
	text := strings.Replace(garden.DemoText, "built-in:mild-maritime", "my-record.csv", 1)
	for name, content := range map[string]string{"mine.toml": text, "my-record.csv": years(2001, 2012)} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(content), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	first, second := filepath.Join(folder, "a.haulm"), filepath.Join(folder, "b.haulm")
	out := filepath.Join(folder, "out.toml")
	for _, args := range [][]string{
		{"--garden", first, "import", filepath.Join(folder, "mine.toml")},
		{"--garden", first, "export", out},
		{"--garden", second, "import", out},
	} {
		if got := haulm(args...); got.code != exitOK {
			t.Fatalf("%v: %+v", args, got)
		}
	}
	a, b := haulm("--garden", first, "plan", "--seconds", "1", "--json"), haulm("--garden", second, "plan", "--seconds", "1", "--json")
	if a.code != exitOK || b.code != exitOK {
		t.Fatalf("%s %s", a.err, b.err)
	}
	if got := haulm("--garden", first, "export", out); got.code != exitBad || !strings.Contains(got.err, "out") {
		t.Errorf("an export wrote over a file: %+v", got)
	}
}

func TestCropsAreFoundByAnyName(t *testing.T) {
	for name, want := range map[string]string{"zucchini": "Courgette", "eggplant": "Aubergine", "Swiss chard": "Chard", "silverbeet": "Chard", "arugula": "Rocket"} {
		if got := haulm("crops", name); got.code != exitOK || !strings.HasPrefix(got.out, want) {
			t.Errorf("%s: %.80q %s", name, got.out, got.err)
		}
	}
}

// West and south are negative: --lon -6.3 must not be taken for a flag.
func TestNegativeNumbersFollowTheirFlag(t *testing.T) {
	got := haulm("grow", "--crop", "leek", "--start", "04-01", "--record", write(t, "r.csv", years(2001, 2004)), "--lat", "-33.9", "--lon", "-70.7", "--elev", "-2", "--json")
	if got.code != exitOK {
		t.Errorf("%+v", got)
	}
	if got := haulm("frost", "--record", write(t, "r.csv", years(2001, 2012)), "--at", "-2.2", "--json"); got.code != exitOK || !strings.Contains(got.out, `"at_c": -2.2`) {
		t.Errorf("%+v", got)
	}
}

func TestPlacesAreFound(t *testing.T) {
	got := haulm("place", "Munich", "--json")
	var answer app.PlacesAnswer
	if err := json.Unmarshal([]byte(got.out), &answer); err != nil || got.code != exitOK {
		t.Fatalf("%v %+v", err, got)
	}
	if len(answer.Places) == 0 || answer.Places[0].CountryCode != "DE" || answer.Attribution == "" {
		t.Errorf("%s", got.out)
	}
	if got := haulm("place", "Xqzzywplk"); got.code != exitBad || strings.Count(got.err, "\n") != 1 {
		t.Errorf("%+v", got)
	}
	if got := haulm("place", "53.4", "-6.3"); got.code != exitOK {
		t.Errorf("coordinates: %+v", got)
	}
}
