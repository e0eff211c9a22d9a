package cli

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"haulm/internal/app"
)

func TestAskHelp(t *testing.T) {
	for _, name := range []string{"", "worth", "without", "with", "hours", "shortlist", "years"} {
		args := []string{"ask", name, "--help"}
		if name == "" {
			args = []string{"ask", "--help"}
		}
		if got := haulm(args...); got.code != exitOK || !strings.Contains(got.out, strings.TrimSpace("Example: haulm ask "+name)) {
			t.Errorf("haulm %s: code %d, no example in:\n%s", strings.Join(args, " "), got.code, got.out)
		}
	}
}

// smallGarden is a garden of one bed and four dishes in a file, without a plan.
func smallGarden(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "garden", "data", "demo.toml"))
	if err != nil {
		t.Fatal(err)
	}
	head, _, _ := strings.Cut(string(text), "[[place]]")
	head += "[[place]]\nname = \"Only bed\"\nkind = \"bed\"\nlength_m = 6\nwidth_m = 1.2\nsun_hours = 7\n"
	for _, dish := range []string{"courgettes", "kale", "leeks", "carrots"} {
		head += "[[want]]\ndish = \"" + dish + "\"\nportions_per_week = 4\nliking = 1\n"
	}
	path := filepath.Join(t.TempDir(), "g.haulm")
	if got := haulm("--garden", path, "import", write(t, "garden.toml", head)); got.code != exitOK {
		t.Fatal(got.err)
	}
	return path
}

func TestAskThePlan(t *testing.T) {
	at := smallGarden(t)
	if got := haulm("--garden", at, "ask", "worth"); got.code != exitBad || !strings.Contains(got.err, "there is no plan yet") {
		t.Errorf("before a plan: %+v", got)
	}
	if got := haulm("--garden", at, "plan", "--seconds", "1"); got.code != exitOK {
		t.Fatal(got.err)
	}
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"without", "Courgettes", "kale", "--seconds", "0.3"}, "courgettes and kale"},
		{[]string{"worth", "--seconds", "0.3"}, "Only bed"},
	} {
		if got := haulm(append([]string{"--garden", at, "ask"}, c.args...)...); got.code != exitOK || !strings.Contains(got.out, c.want) {
			t.Errorf("haulm ask %s: code %d, no %q in:\n%s%s", strings.Join(c.args, " "), got.code, c.want, got.out, got.err)
		}
	}
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"without", "zuchini"}, "the nearest are: Courgette"},
		{[]string{"with", "leeks", "--m2", "-2"}, "-2 m²"},
		{[]string{"hours", "--minutes", "0"}, "0 minutes"},
		{[]string{"shortlist", "--most", "40"}, "1 to 15"},
		{[]string{"years", "--seconds", "0"}, "--seconds 0"},
	} {
		if got := haulm(append([]string{"--garden", at, "ask"}, c.args...)...); got.code != exitBad || !strings.Contains(got.err, c.want) || strings.Count(got.err, "\n") != 1 {
			t.Errorf("haulm ask %s: code %d, wanted one line with %q:\n%s", strings.Join(c.args, " "), got.code, c.want, got.err)
		}
	}
	var years app.YearsAnswer
	if got := haulm("--garden", at, "ask", "years", "--seconds", "0.3", "--json"); json.Unmarshal([]byte(got.out), &years) != nil || years.Mean.InMean <= 0 || len(years.Words) == 0 {
		t.Errorf("as JSON: %+v", got)
	}
}
