package climatology

import (
	"math"
	"testing"

	"haulm/internal/weather"
)

// TestSettlements_Within: the cells lose no neighbour, at any latitude and over
// the date line: against a walk through all of them.
func TestSettlements_Within(t *testing.T) {
	w := load(t)
	for _, at := range [][2]float64{{42.44, -76.5}, {51.5, -0.01}, {-0.2, -78.5}, {64.1, -21.9}, {66.5, 179.99}, {-16.8, -179.98}, {69.9, 23.2}, {89, 10}} {
		slow := 0
		for _, p := range w.settled.all {
			if distanceKM(at[0], at[1], float64(p.lat), float64(p.lon)) < townReachKM {
				slow++
			}
		}
		fast := 0
		w.settled.within(at[0], at[1], func(settlement, float64) { fast++ })
		if fast != slow {
			t.Errorf("%v: %d settlements, %d by a walk through all", at, fast, slow)
		}
	}
	if n := len(w.settled.all); n < 150_000 {
		t.Errorf("only %d settlements", n)
	}
}

// TestSettlements_Around: a made-up valley village and town.
func TestSettlements_Around(t *testing.T) {
	s := &settlements{first: make([]int32, cellRows*cellCols+2)}
	s.all = []settlement{{45.1, 7.1, 500, 9000}, {45.12, 7.12, 540, 0}, {45.11, 7.1, float32(math.NaN()), 0}}
	for c := cellOf(45.1, 7.1) + 1; c < len(s.first); c++ {
		s.first[c] = 3
	}
	if n := s.around(45.1, 7.1, 510); math.Abs(n.knollKM) > 0.02 || math.Abs(n.town-math.Log(10)) > 0.02 {
		t.Errorf("in the village: %+v", n)
	}
	if n := s.around(45.1, 7.1, 700); n.knollKM < 0.15 || n.knollKM > 0.2 {
		t.Errorf("200 m above it: %+v", n)
	}
	if n := s.around(45.1, 7.1, 3000); n.knollKM != 0.5 {
		t.Errorf("far above it: %+v", n)
	}
	if n := s.around(46.5, 7.1, 700); n != (neighbourhood{}) {
		t.Errorf("far away: %+v", n)
	}
}

// TestTownsAreWarm: towns keep their nights warm, by how much is known from the
// literature of cities to be some 0.5 to 3 °C in the mean (from memory).
func TestTownsAreWarm(t *testing.T) {
	w := load(t)
	bare := *w
	bare.settled = nil
	for _, c := range []struct {
		name      string
		site      weather.Site
		low, high float64
	}{
		{"Paris", weather.Site{LatDeg: 48.85, LonDeg: 2.35, ElevM: 42}, 0.8, 3.5},
		{"Berlin", weather.Site{LatDeg: 52.52, LonDeg: 13.41, ElevM: 43}, 0.8, 3.5},
		{"a village high in the Massif Central", weather.Site{LatDeg: 44.73, LonDeg: 3.27, ElevM: 1200}, -1.5, 1.2},
	} {
		with, _ := w.Normals(c.site)
		without, _ := bare.Normals(c.site)
		for m := range 12 {
			if by := with.Months[m].TminC - without.Months[m].TminC; by < c.low || by > c.high {
				t.Errorf("%s, month %d: its nights are %.1f °C warmer for the town", c.name, m+1, by)
			}
		}
	}
}
