package cli

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A household takes everything away and begins again elsewhere with it.
func TestEverythingGoesOutAndTheDiaryComesIn(t *testing.T) {
	garden := seasonGarden(t)
	for _, line := range []string{"sown carrots bed 2 2 April", "note: swallows", "rain 12 mm"} {
		if got := onDay(inApril, "--garden", garden, "note", line); got.code != exitOK {
			t.Fatal(got.err)
		}
	}
	folder := filepath.Join(t.TempDir(), "all")
	if got := onDay(inApril, "--garden", garden, "export", "--all", folder); got.code != exitOK || !strings.Contains(got.out, "README.txt") {
		t.Fatalf("%d %s%s", got.code, got.out, got.err)
	}
	other := filepath.Join(t.TempDir(), "other.haulm")
	table := filepath.Join(folder, "diary.csv")
	if got := onDay(inApril, "--garden", other, "import", table); got.code != exitBad || !strings.Contains(got.err, "there is no such file") {
		t.Errorf("a diary without a garden: %d %s", got.code, got.err)
	}
	for _, step := range []struct{ file, says string }{
		{filepath.Join(folder, "garden.toml"), "Lowmoor Cottage: 9 places"}, {table, "3 lines written in the diary"}, {table, "nothing new: the diary has 3 lines of the file already"},
	} {
		if got := onDay(inApril, "--garden", other, "import", step.file); got.code != exitOK || !strings.Contains(got.out, step.says) {
			t.Fatalf("%s: %d %s%s, want %q", step.file, got.code, got.out, got.err, step.says)
		}
	}
	if got := onDay(inApril, "--garden", other, "note", "--undo"); got.code != exitOK || !strings.Contains(got.out, "3 lines read from a file") {
		t.Errorf("undo: %s%s", got.out, got.err)
	}
}

func TestWhatCannotBeTakenOutOrInSaysWhy(t *testing.T) {
	garden := seasonGarden(t)
	bad := filepath.Join(t.TempDir(), "bad.csv")
	if err := os.WriteFile(bad, []byte("day,what\n2027-02-30,sown\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for want, args := range map[string][]string{
		"name it, as in haulm export --all mine.zip":                            {"export", "--all"},
		"is there already and is not written over":                              {"export", "--all", filepath.Dir(bad)},
		"bad.csv, line 2: \"2027-02-30\" is no day of the calendar: correct it": {"import", bad},
		"no such file":           {"import", "none.csv"},
		"unpack it, then import": {"import", "mine.zip"},
		"is a folder: import garden.toml and diary.csv out of it": {"import", filepath.Dir(bad)},
		"this is no garden in text form":                          {"import", "../../go.mod"},
	} {
		got := onDay(inApril, append([]string{"--garden", garden}, args...)...)
		if got.code != exitBad || !strings.Contains(got.err, want) || strings.Count(got.err, "\n") != 1 {
			t.Errorf("%q: %d %q, want %q", args, got.code, got.err, want)
		}
	}
}
