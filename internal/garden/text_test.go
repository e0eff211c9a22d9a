package garden

import (
	"bytes"
	"math"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"haulm/internal/calendar"
	"haulm/internal/weather"
)

func finite() *rapid.Generator[float64] {
	return rapid.OneOf(
		rapid.Float64Range(-1e3, 1e3),
		rapid.Float64().Filter(func(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }),
		rapid.Map(rapid.IntRange(-1000, 1000), func(n int) float64 { return float64(n) }),
	)
}

func whole() *rapid.Generator[int] { return rapid.IntRange(math.MinInt32, math.MaxInt32) }

func anyDate() *rapid.Generator[calendar.Date] {
	return rapid.Map(rapid.IntRange(-700000, 2900000), func(n int) calendar.Date { return calendar.Date(n) })
}

// listOf draws nil for an empty list, as Parse gives it back.
func listOf[T any](t *rapid.T, label string, one func(*rapid.T) T) []T {
	var out []T
	for range rapid.IntRange(0, 4).Draw(t, label) {
		out = append(out, one(t))
	}
	return out
}

// anyGarden draws documents far beyond what Check allows: the text form must
// carry them all the same.
func anyGarden(t *rapid.T) *Garden {
	word := func(t *rapid.T) string { return rapid.String().Draw(t, "text") }
	num := func(t *rapid.T) float64 { return finite().Draw(t, "number") }
	n := func(t *rapid.T) int { return whole().Draw(t, "whole") }
	return &Garden{
		Name: word(t), WeatherRef: word(t), Soil: word(t),
		Site: weather.Site{LatDeg: num(t), LonDeg: num(t), ElevM: num(t)},
		Household: Household{People: n(t), PortionsPerDay: num(t), MinutesPerWeek: num(t), IndoorTrays: num(t),
			Experience: word(t), Imperial: rapid.Bool().Draw(t, "imperial")},
		Wants: listOf(t, "wants", func(t *rapid.T) Want { return Want{word(t), num(t), num(t)} }),
		Places: listOf(t, "places", func(t *rapid.T) Place {
			kind := rapid.OneOf(rapid.SampledFrom(kinds), rapid.String()).Draw(t, "kind")
			return Place{Name: word(t), Kind: kind, LengthM: num(t), WidthM: num(t), SunHours: num(t), Cover: word(t), Pots: n(t), Litres: num(t), Soil: word(t), RainFed: rapid.Bool().Draw(t, "rain-fed"), RunsTo: word(t)}
		}),
		History: listOf(t, "history", func(t *rapid.T) Grown { return Grown{word(t), n(t), n(t), word(t), n(t)} }),
		Standing: listOf(t, "standing", func(t *rapid.T) Standing {
			s := Standing{word(t), n(t), n(t), word(t), word(t), word(t), anyDate().Draw(t, "started"), calendar.None}
			if rapid.Bool().Draw(t, "raised") {
				s.SetOut = anyDate().Draw(t, "set out")
			}
			return s
		}),
		InStore: listOf(t, "in store", func(t *rapid.T) InStore { return InStore{word(t), num(t)} }),
		Locks:   listOf(t, "locks", func(t *rapid.T) Lock { return Lock{word(t), word(t)} }),
		Keeps: listOf(t, "keeps", func(t *rapid.T) Keep {
			return Keep{word(t), n(t), n(t), word(t), word(t), word(t), rapid.SampledFrom([]calendar.Date{calendar.None, calendar.On(2027, 5, 4)}).Draw(t, "start")}
		}),
	}
}

func TestTextRoundTripsExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := anyGarden(t)
		var text bytes.Buffer
		if err := Write(&text, want); err != nil {
			t.Fatal(err)
		}
		got, err := Parse(bytes.NewReader(text.Bytes()))
		if err != nil {
			t.Fatalf("%v in\n%s", err, text.String())
		}
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("got %#v\nwant %#v\nfrom\n%s", got, want, text.String())
		}
	})
}

func TestDemoIsWrittenAsItStands(t *testing.T) {
	var text bytes.Buffer
	if err := Write(&text, Demo()); err != nil {
		t.Fatal(err)
	}
	got, want := strings.Split(text.String(), "\n"), strings.Split(DemoText, "\n")
	for i := range min(len(got), len(want)) {
		if got[i] != want[i] {
			t.Fatalf("line %d: wrote %q, data/demo.toml has %q", i+1, got[i], want[i])
		}
	}
	if len(got) != len(want) {
		t.Fatalf("wrote %d lines, data/demo.toml has %d", len(got), len(want))
	}
}

func TestWriteRefusesWhatTextCannotCarry(t *testing.T) {
	g := Demo()
	g.Places[0].Name = "bed \xff"
	if err := Write(&bytes.Buffer{}, g); err == nil || !strings.Contains(err.Error(), "UTF-8") {
		t.Errorf("invalid UTF-8: got %v", err)
	}
	g = Demo()
	g.Standing[0].Started = calendar.None
	if err := Write(&bytes.Buffer{}, g); err == nil || !strings.Contains(err.Error(), "started") {
		t.Errorf("missing day: got %v", err)
	}
}

// edit changes one line of the demonstration text.
func edit(t *testing.T, old, new string) string {
	t.Helper()
	if !strings.Contains(DemoText, old) {
		t.Fatalf("the demonstration has no %q", old)
	}
	return strings.Replace(DemoText, old, new, 1)
}

func TestParseSaysWhatToMend(t *testing.T) {
	cases := []struct{ name, text, want string }{
		{"misspelt key", edit(t, "length_m = 7.2", "lenght_m = 7.2"), `line 32: place "Long bed": unknown key "lenght_m"; did you mean "length_m"?`},
		{"misspelt in a later table", edit(t, "length_m = 3.6\nwidth_m = 1.2\nsun_hours", "length_m = 3.6\nwidth_m = 1.2\nsun_hour"), `line 62: place "Ash tree bed": unknown key "sun_hour"; did you mean "sun_hours"?`},
		{"unit forgotten", edit(t, "elevation_m", "elevation"), `unknown key "elevation"; did you mean "elevation_m"?`},
		{"unknown extra key", edit(t, "indoor_trays = 6", "indoor_trays = 6\ndogs = 2"), `household: unknown key "dogs"; known here:`},
		{"unknown table", DemoText + "\n[[plcae]]\nname = \"x\"\n", `unknown key "plcae"; did you mean "place"?`},
		{"missing key", edit(t, "sun_hours = 7.5\n", ""), `line 29: place "Long bed": sun_hours is missing`},
		{"missing table", "name = \"x\"\nweather = \"y\"\n", "site is missing"},
		{"text for a number", edit(t, "length_m = 7.2", `length_m = "8 m"`), `length_m must be a plain number such as 2.5, not "8 m"`},
		{"number for text", edit(t, `cover = "frame"`, `cover = 1`), `place "Cold frame": cover must be text in quotes, not 1`},
		{"half a person", edit(t, "people = 4", "people = 3.5"), "line 18: household: people must be a whole number, not 3.5"},
		{"words for true", edit(t, `cover = "frame"`, `watered = "never"`), `place "Cold frame": watered must be true or false, without quotes, not "never"`},
		{"bad date", edit(t, "started = 2026-10-18", `started = "18 Oct"`), `standing "garlic": started must be a date like 2027-03-20, not "18 Oct"`},
		{"units", edit(t, `units = "metric"`, `units = "furlongs"`), `units "furlongs" is not known; write "metric" or "imperial"`},
		{"newer text", edit(t, "format = 1", "format = 7"), "line 3: this garden was written by a newer Haulm (text format 7, this one knows 1); update Haulm"},
		{"table not list", edit(t, "[[lock]]", "[lock]"), "lock must be written as [[lock]], once for each"},
		{"broken TOML", "name = \"Lowmoor", `line 1 (name = "Lowmoor) cannot be read: a line is a name, = and a value`},
		{"text without quotes", edit(t, `kind = "bed"`, "kind = bed"), "line 31 (kind = bed) cannot be read"},
		{"heading not closed", edit(t, "[household]", "[household"), "line 17 ([household) cannot be read"},
		{"key twice", edit(t, "people = 4", "people = 4\npeople = 5"), "line 19: people = 5 stands a second time; keep one of the two"},
		{"empty", "", "it is empty"},
		{"only notes", "# nothing\n", "it is empty"},
		{"a garden's own file", "SQLite format 3\x00\x10\x00\x01", "garden text: this is a garden's own file, not its text; open it with haulm --garden FILE"},
		{"binary", "\x7fELF\x02\x01\x00", "garden text: this is no garden in text form"},
		{"a program's text", "module haulm\n\ngo 1.24\n", "this is no garden in text form: no line of it is one of name = …"},
		{"another program's TOML", "title = \"x\"\n[owner]\nname = \"y\"\n", "this is no garden in text form"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := Parse(strings.NewReader(c.text))
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Fatalf("got  %v\nwant … %s …", err, c.want)
			}
			if strings.Contains(err.Error(), "\n") {
				t.Errorf("more than one line: %q", err)
			}
		})
	}
}

func TestParseAcceptsOtherWaysOfWritingTOML(t *testing.T) {
	text := `name = "Small"
weather = "w.csv"
site = { latitude_deg = 1, longitude_deg = 2, elevation_m = 3 }
place = [ { name = "Pot", kind = "pots", pots = 2, litres = 10, sun_hours = 6 } ]
[household]
people = 2.0
portions_per_person_per_day = 1
minutes_per_week = 60
indoor_trays = 0
experience = "new"
units = "imperial"
[[standing]]
place = "Pot"
from_cm = 0
to_cm = 50
crop = "garlic"
started = "2026-10-01"
`
	g, err := Parse(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	if g.Household.People != 2 || !g.Household.Imperial || g.Places[0].Litres != 10 ||
		g.Standing[0].Started.String() != "2026-10-01" || g.Standing[0].SetOut.Known() {
		t.Errorf("got %+v", g)
	}
}

func FuzzParse(f *testing.F) {
	f.Add(DemoText)
	f.Add("")
	f.Add("name = '''\nx'''\n[[place]]\nplace.x = 1")
	f.Fuzz(func(t *testing.T, text string) {
		g, err := Parse(strings.NewReader(text))
		if err != nil {
			return
		}
		var out bytes.Buffer
		if err := Write(&out, g); err != nil {
			return
		}
		if _, err := Parse(&out); err != nil {
			t.Fatalf("what was read and written cannot be read again: %v", err)
		}
	})
}
