package sun

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"haulm/internal/calendar"
)

var midsummer = calendar.On(2024, time.June, 21)

// An open spot gets the whole day, to the step of the count.
func TestDirectHours_OpenGround(t *testing.T) {
	for _, lat := range []float64{-37.8, 0, 45, 53.4} {
		d := DayAt(midsummer, lat, 5)
		if got, want := DirectHours(midsummer, lat, 5, Spot{}), d.Set.Sub(d.Rise).Hours(); math.Abs(got-want) > 0.34 {
			t.Errorf("lat %g: got %.2f h, the day is %.2f h", lat, got, want)
		}
	}
	if got := DirectHours(midsummer, 70, 20, Spot{}); got != 24 {
		t.Errorf("midnight sun: got %.2f h", got)
	}
}

// At an equinox the sun crosses a wall's line due east and west at 6 and 18 h
// true time: ground close to the pole side of a long wall gets nothing, the
// other side the whole day.
func TestDirectHours_LongWallAtEquinox(t *testing.T) {
	equinox := calendar.On(2024, time.March, 20)
	wall := []Wall{{From: Point{-500, 0}, To: Point{500, 0}, HeightM: 2}}
	if got := DirectHours(equinox, 52, 0, Spot{Point: Point{0, 0.5}, Walls: wall}); got > 0.5 {
		t.Errorf("half a metre north of a 2 m wall: got %.2f h", got)
	}
	open := DirectHours(equinox, 52, 0, Spot{})
	if got := DirectHours(equinox, 52, 0, Spot{Point: Point{0, -0.5}, Walls: wall}); got < open-0.5 {
		t.Errorf("half a metre south of it: got %.2f h of %.2f", got, open)
	}
	if got := DirectHours(equinox, -38, 0, Spot{Point: Point{0, -0.5}, Walls: wall}); got > 0.5 {
		t.Errorf("the south side of a wall in the south: got %.2f h", got)
	}
}

func TestDirectHours_Horizon(t *testing.T) {
	noonOnly := func(azimuth float64) float64 {
		if azimuth > 150 && azimuth < 210 {
			return 0
		}
		return 90
	}
	got := DirectHours(midsummer, 52, 0, Spot{Horizon: noonOnly})
	if got < 1.5 || got > 3 { // 60° of azimuth about a summer noon
		t.Errorf("got %.2f h through a gap to the south", got)
	}
}

// Behind a wall too long to look round, the ray and the square depth of the
// shadow must agree: two ways to one answer.
func TestSunlit_AgreesWithShadowDepth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		height := rapid.Float64Range(0.2, 5).Draw(t, "height")
		elevation := rapid.Float64Range(2, 89).Draw(t, "elevation")
		azimuth := rapid.Float64Range(0, 360).Draw(t, "azimuth")
		along := rapid.Float64Range(0, 180).Draw(t, "wall")
		depth := ShadowDepthM(height, elevation, azimuth, along)
		if depth < 0.05 { // grazing sun: the wall's end comes into view
			return
		}
		east, north := math.Sincos(radians(along))
		wall := Wall{From: Point{-1e5 * east, -1e5 * north}, To: Point{1e5 * east, 1e5 * north}, HeightM: height}
		side := -1.0 // unit vector square to the wall, away from the sun
		if math.Sin(radians(azimuth-along)) < 0 {
			side = 1
		}
		at := func(d float64) Spot {
			return Spot{Point: Point{side * d * north, -side * d * east}, Walls: []Wall{wall}}
		}
		if at(depth*0.99).Sunlit(elevation, azimuth) || !at(depth*1.01).Sunlit(elevation, azimuth) {
			t.Fatalf("the shadow does not end at %.3f m", depth)
		}
	})
}

func TestDirectHours_ShadeNeverAddsLight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		metre := rapid.Float64Range(-10, 10)
		wall := Wall{Point{metre.Draw(t, "e1"), metre.Draw(t, "n1")}, Point{metre.Draw(t, "e2"), metre.Draw(t, "n2")}, rapid.Float64Range(0, 4).Draw(t, "h")}
		lat := rapid.Float64Range(-60, 60).Draw(t, "lat")
		day := calendar.On(2024, time.January, rapid.IntRange(1, 366).Draw(t, "day"))
		if DirectHours(day, lat, 0, Spot{Walls: []Wall{wall}}) > DirectHours(day, lat, 0, Spot{}) {
			t.Fatal("a wall added light")
		}
	})
}
