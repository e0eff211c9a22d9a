package season

import (
	"testing"

	"pgregory.net/rapid"

	"haulm/internal/calendar"
)

// A key comes apart into what it was made of, whatever the place is called.
func TestSplitKeyUndoesKey(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cropKey, route := rapid.StringMatching(`[a-z_]{1,12}`).Draw(t, "crop"), rapid.StringMatching(`[a-z_]{1,12}`).Draw(t, "route")
		place, from := rapid.StringMatching(`[A-Za-z0-9 /]{1,20}`).Draw(t, "place"), rapid.IntRange(0, 5000).Draw(t, "from")
		start := calendar.On(2020, 1, 1).Add(rapid.IntRange(0, 9000).Draw(t, "day"))
		c, r, p, f, s, ok := SplitKey(Key(cropKey, route, place, from, start))
		if !ok || c != cropKey || r != route || p != place || f != from || s != start {
			t.Fatalf("came apart into %q %q %q %d %s %v", c, r, p, f, s, ok)
		}
	})
	for _, key := range []string{"", "noted/7", "a/b/c/d/e", "a/b/c/10/soon"} {
		if _, _, _, _, _, ok := SplitKey(key); ok {
			t.Errorf("%q came apart", key)
		}
	}
}
