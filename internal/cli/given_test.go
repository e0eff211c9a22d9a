package cli

import (
	"path/filepath"
	"strings"
	"testing"
)

// What cannot be read is answered with what it must be, never in the words of
// the library that reads the command line.
func TestWhatCannotBeReadIsAnsweredPlainly(t *testing.T) {
	for _, c := range []struct {
		line, want string
	}{
		{"year abc", `year "abc": it must be a year such as 2026; see haulm year --help`},
		{"year 99999999999999999999", "a year such as 2026"},
		{"year 0x7E9", "a year such as 2026"},
		{"frost --from x", `--from "x": it must be a year such as 2026; see haulm frost --help`},
		{"grow --crop leek --to 20o6", "a year such as 2026"},
		{"frost --lat north", `--lat "north": it must be degrees such as 53.4`},
		{"weather fetch --elev high", "metres such as 71"},
		{"plan --seconds soon", `--seconds "soon": it must be a number such as 2.5; see haulm plan --help`},
		{"plan --seconds NaN", "it must be a number"},
		{"plan --seconds", "--seconds needs a number such as 2.5 after it"},
		{"plan --seconds --json", "--seconds needs a number such as 2.5 after it"},
		{"plan --simpler few", `--simpler "few": it must be a whole number such as 3`},
		{"plan --seed 1.5", "it must be a whole number"},
		{"plan --from --rest", "--from needs YYYY-MM-DD after it"},
		{"plan --rest=perhaps", `--rest "perhaps": it must be given alone`},
		{"plan --unnoted maybe", `--unnoted "maybe": it must be done or missed`},
		{"serve --port home", "a port such as 8470"},
		{"lock free leek", `number "leek": it must be its number in haulm lock list, such as 1; see haulm lock free --help`},
		{"lock free", "lock free needs <number>; see haulm lock free --help"},
		{"lock keep Long", "lock keep needs <crop>"},
		{"weather", "weather needs one of: fetch, forecast, join, offset, convert, check; see haulm weather --help"},
		{"weather offset --night", "--night needs 2027-04-12=-1.5 after it"},
		{"today --day", "--day needs YYYY-MM-DD after it"},
		{"record --garden", "--garden needs FILE after it"},
		{"lock ban Pots beetroots", `lock ban does not take "beetroots": it takes <dish>, and names of several words in quotes, as in haulm lock ban courgette --in "Wall border"; see haulm lock ban --help`},
		{"lock keep Long bed leek", `lock keep does not take "leek": it takes <place> and <crop>, and names of several words in quotes, as in haulm lock keep "Long bed" leek --always; see`},
		{"today carrots", `today does not take "carrots": it takes no words, only flags, as in haulm today`},
		{"forst", `there is no command "forst" (did you mean "frost"?); see haulm --help`},
		{"lock gherkin", `there is no command "lock gherkin"; it is one of: list, keep, ban, free; see haulm lock --help`},
	} {
		got := haulm(strings.Fields(c.line)...)
		if got.code != exitBad || got.out != "" || !strings.Contains(got.err, c.want) || strings.Count(got.err, "\n") != 1 {
			t.Errorf("haulm %s: %+v, want code 2 and one line with %q", c.line, got, c.want)
		}
		for _, jargon := range []string{" bit ", "float", "EOL", "bool", "string", "expected", "unexpected", "argument", "haulm: haulm"} {
			if strings.Contains(got.err, jargon) {
				t.Errorf("haulm %s says %q, a word of the machine's: %s", c.line, jargon, got.err)
			}
		}
	}
}

// Numbers are read as people write them, flags alone or with their answer.
func TestWhatIsGivenIsRead(t *testing.T) {
	none := filepath.Join(t.TempDir(), "none.haulm")
	for _, line := range []string{
		"year 2026", "year", "plan --seconds 0.5 --seed -3", "plan --seconds=2 --rest=false", "plan --unnoted done --rest", "lock free 1",
		"ask hours --minutes -30", "today --minutes 12.5",
	} {
		got := haulm(append([]string{"--garden", none}, strings.Fields(line)...)...)
		if got.code != exitBad || !strings.Contains(got.err, "there is no such file; check its name, or make a garden there: haulm --garden ") {
			t.Errorf("haulm %s was not read: %+v", line, got)
		}
	}
	record := write(t, "years.csv", years(2001, 2012))
	if got := haulm("frost", "--record", record, "--lat", "53.4", "--lon", "-6.3", "--from", "2002", "--to", "2011", "--at", "-2.5"); got.code != exitOK || !strings.Contains(got.out, "-2.5") {
		t.Errorf("frost: %+v", got)
	}
}

// A number that is not in the list names the command that shows the list.
func TestFreeingWhatIsNotThereNamesTheList(t *testing.T) {
	at := seasonGarden(t)
	got := onDay(inApril, "--garden", at, "lock", "free", "99")
	if want := "haulm: there is no number 99: haulm lock list shows what is kept and banned\n"; got.err != want || got.code != exitBad {
		t.Errorf("got %+v, want %q", got, want)
	}
	if got := onDay(inApril, "--garden", at, "lock", "ban", "leek", "--in", "Long"); got.code != exitOK || !strings.HasPrefix(got.out, "Banned. ") {
		t.Errorf("banning: %+v", got)
	}
	if got := onDay(inApril, "--garden", at, "lock", "free", "2"); got.code != exitOK || !strings.HasPrefix(got.out, "Free again. ") {
		t.Errorf("freeing: %+v", got)
	}
}
