package layers

import (
	"strings"
	"testing"
	"testing/fstest"
)

// A small house with every fault in it, so that the real test is known to be
// able to fail.
func TestCheckFindsFaults(t *testing.T) {
	small := rules{
		tiers:        [][]string{{"app"}, {"grow", "kitchen", "plan"}, {"sun", "soil"}},
		sideways:     map[string][]string{"soil": {"sun"}},
		alone:        []string{"plan"},
		impure:       []string{"app"},
		mayOpenFiles: []string{"soil/readfile.go"},
	}
	for _, tc := range []struct{ name, file, source, want string }{
		{"down", "grow/a.go", `import "m/sun"`, ""},
		{"up", "sun/a.go", `import "m/grow"`, "imports run down"},
		{"sideways", "grow/a.go", `import "m/kitchen"`, "one tier"},
		{"sideways allowed", "soil/a.go", `import "m/sun"`, ""},
		{"sideways the other way", "sun/a.go", `import "m/soil"`, "one tier"},
		{"alone", "plan/a.go", `import "m/sun"`, "imports nothing of ours"},
		{"unplaced", "ical/a.go", ``, "place it in layers_test.go"},
		{"test files are free", "sun/a_test.go", `import "m/grow"; import "os"`, ""},
		{"testdata is not code", "sun/testdata/a.go", `import "m/grow"`, ""},
		{"network", "sun/a.go", `import "net/http"`, "must not import net/http"},
		{"network below", "sun/a.go", `import "net"`, "must not import net"},
		{"files", "soil/a.go", `import "os"`, "io.Reader"},
		{"files by name", "soil/readfile.go", `import "os"`, ""},
		{"only files by name", "soil/readfile.go", `import "os/exec"`, "must not import os/exec"},
		{"database", "grow/a.go", `import "database/sql"`, "must not import database/sql"},
		{"log", "grow/a.go", `import "log/slog"`, "must not import log/slog"},
		{"old chance", "plan/a.go", `import "math/rand"`, "math/rand/v2"},
		{"hidden seed", "plan/a.go", `import "math/rand/v2"; var x = rand.IntN(3)`, "hidden seed"},
		{"hidden seed renamed", "plan/a.go", `import r "math/rand/v2"; func f() { r.Shuffle(1, nil) }`, "hidden seed"},
		{"own seed", "plan/a.go", `import "math/rand/v2"; func f(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 1)) }`, ""},
		{"clock", "grow/a.go", `import "time"; var x = time.Now()`, "reads the clock"},
		{"clock renamed", "grow/a.go", `import clock "time"; var now = clock.Now`, "reads the clock"},
		{"clock by since", "grow/a.go", `import "time"; func f(t time.Time) { time.Since(t) }`, "reads the clock"},
		{"dates are no clock", "grow/a.go", `import "time"; var x = time.Date(2027, 1, 1, 0, 0, 0, 0, time.UTC)`, ""},
		{"dot import", "grow/a.go", `import . "time"; var x = Now()`, "by its name"},
		{"the shell may", "app/a.go", `import "os"; import "time"; var x = time.Now(); var y = os.Args`, ""},
	} {
		t.Run(tc.name, func(t *testing.T) {
			tree := fstest.MapFS{tc.file: {Data: []byte("package p\n" + tc.source + "\n")}}
			faults, _, err := small.check(tree, "m")
			got := strings.Join(faults, "\n")
			switch {
			case err != nil:
				t.Fatal(err)
			case tc.want == "" && got != "":
				t.Errorf("found fault: %s", got)
			case !strings.Contains(got, tc.want):
				t.Errorf("got %q, want a fault with %q", got, tc.want)
			}
		})
	}
}
