package store

import (
	"testing"

	"haulm/internal/garden"
)

func TestOnlyTheWritingOfOthersIsTold(t *testing.T) {
	ours := fresh(t)
	must(t, ours.SaveGarden(ctx, garden.Demo(), now))
	theirs, err := Open(ours.Path())
	must(t, err)
	defer theirs.Close()
	version := func() int64 {
		t.Helper()
		v, err := ours.WrittenElsewhere(ctx)
		must(t, err)
		return v
	}
	first := version()
	g := garden.Demo()
	g.Name = "Ours"
	must(t, ours.SaveGarden(ctx, g, now))
	if got := version(); got != first {
		t.Errorf("our own writing is told: %d, then %d", first, got)
	}
	g.Name = "Theirs"
	must(t, theirs.SaveGarden(ctx, g, now))
	if got := version(); got == first {
		t.Errorf("what another wrote is not told: %d both times", got)
	}
}
