package store

import (
	"context"
	"database/sql"
	"fmt"
	"os"
	"testing"
)

const crashDiaryEnv = "HAULM_TEST_CRASH_WRITING_IN"

// TestCrashingDiarist is the victim of the test below: it has written half a
// line of the diary when it is killed.
func TestCrashingDiarist(t *testing.T) {
	path := os.Getenv(crashDiaryEnv)
	if path == "" {
		return // only of use as a child of TestKilledWhileWritingTheDiary
	}
	s, err := Open(path)
	must(t, err)
	_ = s.inTx(context.Background(), "crashing", func(tx *sql.Tx) error {
		e := courgettes
		e.Text = "half written"
		_, err := insertEntry(ctx, tx, e, nil, 1)
		must(t, err)
		fmt.Println("half written")
		select {}
	})
}

// Power lost in the middle of a line leaves the lines before it, and the diary
// goes on.
func TestKilledWhileWritingTheDiary(t *testing.T) {
	path := saved(t)
	s, err := Open(path)
	must(t, err)
	_, err = s.AddDiary(ctx, courgettes, now)
	must(t, err)
	must(t, s.Close())

	killWhen(t, "half written", "TestCrashingDiarist", crashDiaryEnv+"="+path)

	s, err = Open(path)
	must(t, err)
	defer s.Close()
	lines, err := s.Diary(ctx)
	must(t, err)
	if len(lines) != 1 || lines[0].Text != courgettes.Text {
		t.Fatalf("after the crash the diary holds %+v", lines)
	}
	if _, err := s.AddDiary(ctx, courgettes, now); err != nil {
		t.Fatal(err)
	}
	if undone, err := s.UndoDiary(ctx); err != nil || undone.Stands {
		t.Errorf("the deed after the crash does not undo: %v", err)
	}
}
