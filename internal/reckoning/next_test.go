package reckoning

import (
	"slices"
	"testing"

	"haulm/internal/diary"
)

// What was planned and is not in a diary that is kept was not begun: its lines
// are there, marked, and go into no garden by themselves. Where no diary is
// kept they hold, as the plan has them.
func TestWhatAKeptDiaryDoesNotKnowIsMarked(t *testing.T) {
	in := invented(t)
	silent := func(e diary.Entry) bool {
		return e.Planting == "leek of Gate bed" || e.Planting == "beetroot of Gate bed"
	}
	in.Diary = slices.DeleteFunc(in.Diary, silent)
	for _, kept := range []bool{true, false} {
		in.DiaryKept = kept
		n, err := NextYear(in)
		if err != nil {
			t.Fatal(err)
		}
		seen := map[string]bool{}
		for _, g := range n.Grown {
			seen[g.Crop] = true
			if want := kept && g.Crop == "beetroot"; g.Unnoted != want {
				t.Errorf("kept %v: the history's %s is marked %v", kept, g.Crop, g.Unnoted)
			}
		}
		if len(n.Stands) != 1 || n.Stands[0].Crop != "leek" || n.Stands[0].Unnoted != kept || !seen["beetroot"] || !seen["onion_sets"] {
			t.Fatalf("kept %v: %+v stands, of the rest %v", kept, n.Stands, seen)
		}
		g := n.Noted().Apply(in.Garden)
		lines := map[string]bool{}
		for _, h := range g.History {
			lines[h.Crop] = true
		}
		if lines["beetroot"] == kept || (len(g.Standing) == 1) == kept || !lines["onion_sets"] {
			t.Errorf("kept %v: the next garden has %v behind it and %d standing", kept, lines, len(g.Standing))
		}
		if len(n.Stands) != 1 {
			t.Error("leaving lines out altered the proposal")
		}
	}
}
