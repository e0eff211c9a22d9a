package layers

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// house is where every package stands. Put a new one in the lowest tier that
// lets it import what it needs; if it needs a neighbour of its own tier, add
// the pair to sideways with the reason.
var house = rules{
	tiers: [][]string{ // a package may import those of the tiers below its own
		{"cmd/haulm", "internal/place/internal/generate"},
		{"internal/web", "internal/cli"},
		{"internal/app"},
		{"internal/store", "internal/figure", "internal/ical", "internal/fetch"},
		{"internal/cropping", "internal/season", "internal/reckoning", "internal/trial"},
		{"internal/plan", "internal/grow", "internal/kitchen", "internal/ground", "internal/diary"},
		{"internal/garden", "internal/climatology"},
		{"internal/readings", "internal/normals", "internal/forecast"},
		{"internal/crop", "internal/soil", "internal/sun", "internal/heat", "internal/weather", "internal/place"},
		{"internal/unit", "internal/calendar", "internal/graded", "internal/place/internal/packed", "internal/place/internal/spelling"},
		{"internal/layers", "internal/sharedfolder"},
	},
	sideways: map[string][]string{
		"internal/cli":  {"internal/web"},                     // the serve command starts the pages
		"internal/soil": {"internal/sun", "internal/weather"}, // water use and soil heat of a record's days
	},
	alone:  []string{"internal/plan"}, // numbers in, numbers out: tested and raced by itself
	impure: []string{"cmd/haulm", "internal/web", "internal/cli", "internal/app", "internal/store", "internal/fetch", "internal/layers", "internal/sharedfolder", "internal/place/internal/generate"},
	mayOpenFiles: []string{
		"internal/readings/readfile.go", // opens a record by path for its readers, which take an io.Reader
	},
}

func TestImportsRunOneWay(t *testing.T) {
	root, module := moduleRoot(t)
	faults, packages, err := house.check(os.DirFS(root), module)
	if err != nil {
		t.Fatal(err)
	}
	if packages < 5 {
		t.Fatalf("found only %d packages under %s: the walk is broken", packages, root)
	}
	for _, fault := range faults {
		t.Error(fault)
	}
}

// moduleRoot finds go.mod above the test and the module's name in it.
func moduleRoot(t *testing.T) (root, module string) {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		text, err := os.ReadFile(filepath.Join(dir, "go.mod"))
		if err == nil {
			line, _, _ := strings.Cut(string(text), "\n")
			return dir, strings.TrimSpace(strings.TrimPrefix(line, "module "))
		}
		if filepath.Dir(dir) == dir {
			t.Fatal("no go.mod above the test")
		}
		dir = filepath.Dir(dir)
	}
}
