package cli

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// oneBed is a cropping problem with one bed, one crop and a planting's setup.
const oneBed = `{"T":3,"S":2,"lambda":0.5,"alpha":0.5,"labCap":2,"labPen":0.5,"labCost":0.1,"trayCap":1,"setup":0.1,
"bonus":[1,2,1],"beds":[{"len":2,"sun":6,"ban":[0,0]}],
"crops":[{"name":"leek","fam":1,"rot":true,"rho":0.5,"sun":5,"tierKg":[1],"tierV":[4]}],
"cands":[{"c":0,"m":"d","a":1,"e":3,"min":1,"cost":0.25,"l0":1,"lab":[10],"tray":[0,1,50],"y":[[1,1000,200],[1,600]]}]}`

// TestSolve_OutCheckKeep: a result written with its proof holds, one tampered with
// does not, and a search can go on from it.
func TestSolve_OutCheckKeep(t *testing.T) {
	problem := write(t, "p.json", oneBed)
	out := filepath.Join(t.TempDir(), "r.json")
	if got := haulm("solve", problem, "--seconds", "0.2", "--out", out); got.code != 0 {
		t.Fatal(got.err)
	}
	if got := haulm("solve", problem, "--check", out); got.code != 0 || !strings.Contains(got.out, " hold: ") {
		t.Errorf("a good result: code %d, %q %q", got.code, got.out, got.err)
	}
	if got := haulm("solve", problem, "--check", out, "--json"); got.code != 0 || !strings.Contains(got.out, `"proven": true`) {
		t.Errorf("a good result as JSON: code %d, %q %q", got.code, got.out, got.err)
	}
	if got := haulm("solve", problem, "--keep", out, "--seconds", "0.2", "--json", "--duals"); got.code != 0 || !strings.Contains(got.out, `"duals"`) {
		t.Errorf("going on: code %d, %q", got.code, got.err)
	}
	text, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	bad := write(t, "bad.json", strings.Replace(string(text), `"bound":`, `"bound":1`, 1))
	if got := haulm("solve", problem, "--check", bad); got.code != 2 || !strings.Contains(got.err, "does not hold: bound told") {
		t.Errorf("a bound tampered with: code %d, %q", got.code, got.err)
	}
	gone := write(t, "gone.json", `{"value":1,"bound":2,"plantings":[{"cand":9,"bed":0,"strip":0,"strips":1}]}`)
	for _, args := range [][]string{{"--check", gone}, {"--keep", gone}} {
		if got := haulm(append([]string{"solve", problem}, args...)...); got.code != 2 || !strings.Contains(got.err, "no candidate 9") {
			t.Errorf("%v: code %d, %q", args, got.code, got.err)
		}
	}
}
