package place

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestNearest(t *testing.T) {
	g := load(t)
	for _, c := range []struct {
		lat, lon float64
		want     string
	}{
		{53.35, -6.26, "Dublin"},
		{-15.84, -70.02, "Puno"},
		{-33.868, 151.207, "Sydney"},
		{35.69, 139.692, "Tokyo"},
	} {
		near := g.Nearest(c.lat, c.lon, 8)
		if !slices.ContainsFunc(near, func(n Near) bool { return n.Name == c.want }) {
			t.Errorf("near %v %v: %v lacks %s", c.lat, c.lon, near, c.want)
		}
	}
	if got := g.Nearest(math.NaN(), 0, 3); got != nil {
		t.Errorf("near nowhere: %v", got)
	}
	if got := g.Nearest(91, 0, 3); got != nil {
		t.Errorf("off the globe: %v", got)
	}
	if got := g.Nearest(0, 0, 0); got != nil {
		t.Errorf("none asked: %v", got)
	}
}

// TestNearestAgainstAll holds the list against the distances to all places, the
// poles and the date line included.
func TestNearestAgainstAll(t *testing.T) {
	g := load(t)
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.OneOf(rapid.Float64Range(-90, 90), rapid.Float64Range(89, 90)).Draw(t, "lat")
		lon := rapid.OneOf(rapid.Float64Range(-180, 180), rapid.Float64Range(179, 180), rapid.Just(-180.0)).Draw(t, "lon")
		n := rapid.IntRange(1, 6).Draw(t, "n")
		var all []float64 // the n smallest distances
		for i := range g.Len() {
			km := KM(lat, lon, degrees(g.table.Lat[i]), degrees(g.table.Lon[i]))
			if len(all) == n && km >= all[n-1] {
				continue
			}
			at, _ := slices.BinarySearch(all, km)
			all = slices.Insert(all, at, km)
			all = all[:min(n, len(all))]
		}
		for i, near := range g.Nearest(lat, lon, n) {
			if math.Abs(near.KM-all[i]) > 0.001 {
				t.Fatalf("the place %d from %v %v is %s at %.3f km, want %.3f km", i+1, lat, lon, near, near.KM, all[i])
			}
		}
	})
}

// TestKM uses the length of a degree of the meridian on a sphere of the IUGG
// mean radius, 111.195 km, and the antipodes.
func TestKM(t *testing.T) {
	for _, c := range []struct{ lat1, lon1, lat2, lon2, want float64 }{
		{0, 0, 1, 0, 111.195},
		{60, 0, 60, 1, 55.597},
		{0, 179.5, 0, -179.5, 111.195},
		{90, 0, -90, 0, 20015.115},
		{53.4, -6.3, 53.4, -6.3, 0},
	} {
		if got := KM(c.lat1, c.lon1, c.lat2, c.lon2); math.Abs(got-c.want) > 0.002 {
			t.Errorf("%v: %.4f km", c, got)
		}
	}
}
