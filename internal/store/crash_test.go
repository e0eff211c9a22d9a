package store

import (
	"bufio"
	"context"
	"database/sql"
	"fmt"
	"os"
	"os/exec"
	"reflect"
	"strings"
	"testing"

	"haulm/internal/garden"
)

const crashEnv = "HAULM_TEST_CRASH_IN"

// TestCrashingWriter is the victim of the test below: it saves half a garden
// and waits to be killed.
func TestCrashingWriter(t *testing.T) {
	path := os.Getenv(crashEnv)
	if path == "" {
		return // only of use as a child of TestKilledWhileSaving
	}
	s, err := Open(path)
	must(t, err)
	g := garden.Demo()
	g.Name = "Half saved"
	_ = s.inTx(context.Background(), "crashing", func(tx *sql.Tx) error {
		must(t, replaceGarden(ctx, tx, g, now))
		fmt.Println("half saved")
		select {}
	})
}

// killWhen runs a test of this package as another process and kills it once it
// has said some words.
func killWhen(t *testing.T, words, test, env string) {
	t.Helper()
	child := exec.Command(os.Args[0], "-test.run=^"+test+"$")
	child.Env = append(os.Environ(), env)
	out, err := child.StdoutPipe()
	must(t, err)
	must(t, child.Start())
	lines, said := bufio.NewScanner(out), false
	for !said && lines.Scan() {
		said = strings.Contains(lines.Text(), words)
	}
	must(t, child.Process.Kill())
	_ = child.Wait() // killed, as meant
	if !said {
		t.Fatalf("%s ended before it said %q", test, words)
	}
}

func TestKilledWhileSaving(t *testing.T) {
	path := saved(t)
	killWhen(t, "half saved", "TestCrashingWriter", crashEnv+"="+path)

	s, err := Open(path)
	must(t, err)
	defer s.Close()
	if got, err := s.LoadGarden(ctx); err != nil || !reflect.DeepEqual(got, garden.Demo()) {
		t.Fatalf("the garden before the crash is gone: %v", err)
	}
	g := garden.Demo()
	g.Name = "Saved after the crash"
	must(t, s.SaveGarden(ctx, g, now))
}

func TestFailureInTheMiddleChangesNothing(t *testing.T) {
	s := fresh(t)
	must(t, s.SaveGarden(ctx, garden.Demo(), now))
	_, err := s.write.Exec("CREATE TRIGGER fail BEFORE INSERT ON lock BEGIN SELECT RAISE(ABORT, 'no more'); END")
	must(t, err)
	g := garden.Demo()
	g.Name = "Another"
	if err := s.SaveGarden(ctx, g, now); err == nil || !strings.Contains(err.Error(), "no more") {
		t.Fatalf("got %v", err)
	}
	if got, err := s.LoadGarden(ctx); err != nil || !reflect.DeepEqual(got, garden.Demo()) {
		t.Errorf("half a garden stayed: %v", err)
	}
	if revisions, err := s.Revisions(ctx); err != nil || len(revisions) != 0 {
		t.Errorf("a revision of what was never replaced: %v, %v", revisions, err)
	}
	cancelled, cancel := context.WithCancel(ctx)
	cancel()
	if err := s.SaveGarden(cancelled, g, now); err == nil {
		t.Error("saved though called off")
	}
}
