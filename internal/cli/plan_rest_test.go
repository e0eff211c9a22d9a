package cli

import (
	"encoding/json"
	"strings"
	"testing"
)

// From the command line: a plan, its rest shown, accepted and undone, a simpler
// one, a ban and a kept planting.
func TestPlanRestAndLocks(t *testing.T) {
	at := seasonGarden(t)
	run := func(args ...string) outcome { return onDay(inApril, append([]string{"--garden", at}, args...)...) }
	if got := run("plan", "--rest"); got.code != exitBad || !strings.Contains(got.err, "no plan yet") {
		t.Errorf("the rest of no plan: %+v", got)
	}
	if got := run("plan", "--seconds", "0.3", "--from", "2027-01-04"); got.code != exitOK {
		t.Fatal(got.err)
	}
	if got := run("plan", "--accept"); got.code != exitBad || !strings.Contains(got.err, "waits to be accepted") {
		t.Errorf("accepting nothing: %+v", got)
	}
	rest := run("plan", "--rest", "--seconds", "0.5", "--json")
	var answer struct {
		Day     string            `json:"day"`
		Assumed bool              `json:"unnoted_taken_as_done"`
		Changes []json.RawMessage `json:"changes"`
	}
	if err := json.Unmarshal([]byte(rest.out), &answer); err != nil || answer.Day != "2027-04-12" || !answer.Assumed {
		t.Fatalf("%v: %+v", err, rest)
	}
	if len(answer.Changes) > 0 {
		if got := run("plan", "--accept"); got.code != exitOK || !strings.Contains(got.out, "haulm plan --undo") {
			t.Errorf("accepting: %+v", got)
		}
		if got := run("plan", "--undo"); got.code != exitOK {
			t.Errorf("undoing: %+v", got)
		}
	}
	if got := run("plan", "--simpler", "1"); got.code != exitOK || !strings.Contains(got.out, "1 plantings fewer") && !strings.Contains(got.out, "1 planting fewer") {
		t.Errorf("simpler: %+v", got)
	}
	if got := run("lock", "ban", "courgette", "--in", "Long"); got.code != exitOK {
		t.Errorf("banning: %+v", got)
	}
	if got := run("lock"); !strings.Contains(got.out, "no courgettes in Long bed") {
		t.Errorf("the list: %+v", got)
	}
	if got := run("lock", "free", "2"); got.code != exitOK {
		t.Errorf("freeing: %+v", got)
	}
}

func TestPlanAndLockRefuseBadInputInOneLine(t *testing.T) {
	at := seasonGarden(t)
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"plan", "--seconds", "-1"}, "--seconds"},
		{[]string{"plan", "--undo"}, "no earlier plan"},
		{[]string{"plan", "--undo", "--rest"}, "goes alone"},
		{[]string{"plan", "--unnoted", "done"}, "give --rest"},
		{[]string{"plan", "--simpler", "3", "--rest"}, "goes alone"},
		{[]string{"plan", "--simpler", "3"}, "no plan yet"},
		{[]string{"lock", "ban", "corgette"}, "corgette"},
		{[]string{"lock", "ban", "courgette", "--in", "Moon bed"}, "the places are"},
		{[]string{"lock", "keep", "Long bed", "leek"}, "no plan yet"},
		{[]string{"lock", "free", "9"}, "no number 9"},
	} {
		got := onDay(inApril, append([]string{"--garden", at}, c.args...)...)
		if got.code != exitBad || !strings.Contains(got.err, c.want) || strings.Count(got.err, "\n") != 1 || got.out != "" {
			t.Errorf("haulm %v: %+v, want code 2 and one line with %q", c.args, got, c.want)
		}
	}
}
