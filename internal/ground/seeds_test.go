package ground

import (
	"math"
	"testing"
)

// Exact binomial sums, worked out apart from this code (check vectors ge-03 and
// ge-04 of the shared reference set).
func TestSeedsForAreBinomial(t *testing.T) {
	for _, c := range []struct {
		plants            int
		sprouts, sureness float64
		seeds             int
		chance            float64
	}{
		{1, 0.8, 0.95, 2, 0.96}, {1, 0.6, 0.95, 4, 0.9744}, {10, 0.8, 0.9, 15, 0.93895}, {10, 0.8, 0.95, 16, 0.97334},
		{10, 0.6, 0.95, 23, 0.96508}, {20, 0.9, 0.95, 25, 0.96660}, {20, 0.7, 0.9, 33, 0.91162}, {50, 0.85, 0.95, 64, 0.95091},
		{100, 0.75, 0.9, 142, 0.91066}, {1, 0.9, 0.99, 2, 0.99},
	} {
		if got := SeedsFor(c.plants, c.sprouts, c.sureness); got != c.seeds {
			t.Errorf("%d plants at %g, %g sure: %d seeds, want %d", c.plants, c.sprouts, c.sureness, got, c.seeds)
		}
		if got := AtLeast(c.plants, c.seeds, c.sprouts); math.Abs(got-c.chance) > 1e-5 {
			t.Errorf("%d of %d at %g: %.5f, want %.5f", c.plants, c.seeds, c.sprouts, got, c.chance)
		}
	}
	for _, c := range []struct {
		seeds, plants int
		sprouts, want float64
	}{{12, 10, 0.8, 0.558346}, {15, 10, 0.8, 0.938949}, {3, 1, 0.5, 0.875}, {30, 20, 0.75, 0.894272}} {
		if got := AtLeast(c.plants, c.seeds, c.sprouts); math.Abs(got-c.want) > 1e-6 {
			t.Errorf("%d of %d at %g: %.6f, want %.6f", c.plants, c.seeds, c.sprouts, got, c.want)
		}
	}
}

func TestSeedsForNothing(t *testing.T) {
	for _, got := range []int{SeedsFor(0, 0.8, 0.9), SeedsFor(5, 0, 0.9), SeedsFor(5, 1.2, 0.9), SeedsFor(5, 0.8, 1), SeedsFor(5, math.NaN(), 0.9)} {
		if got != 0 {
			t.Errorf("got %d seeds", got)
		}
	}
	if got := SeedsFor(7, 1, 0.9); got != 7 {
		t.Errorf("seed that never fails: %d for 7 plants", got)
	}
}
