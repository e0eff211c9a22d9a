package cropping

import (
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/garden"
)

// An old crown of rhubarb is pulled each spring of every weather year and keeps
// its ground; one planted last autumn gives nothing in its first season.
func TestPerennialsStandAndBear(t *testing.T) {
	w := newWorld(t)
	g := onePlace(garden.Place{Name: "B", Kind: garden.Bed, LengthM: 4, WidthM: 1.2, SunHours: 8})
	g.Wants = append(g.Wants, garden.Want{Dish: "rhubarb", PortionsPerWeek: 4, Liking: 1})
	for _, c := range []struct {
		planted calendar.Date
		springs [2]bool // of 2027 and 2028: pulled at all
	}{
		{calendar.On(2019, 11, 1), [2]bool{true, true}},
		{calendar.On(2026, 11, 1), [2]bool{true, true}}, // a light picking, then a fair one
		{calendar.On(2027, 1, 2), [2]bool{false, true}},
	} {
		g.Standing = []garden.Standing{{Place: "B", ToCM: 100, Crop: "rhubarb", Started: c.planted, SetOut: calendar.None}}
		l := w.lay(t, g)
		s := &l.standing[0]
		if s.numbers.End != l.rules.weeks() {
			t.Errorf("planted %s: its ground is free in week %d", c.planted, s.numbers.End)
		}
		for y := range l.years {
			var springs [2]float64
			for i, grams := range s.numbers.Yield[y].Grams {
				springs[l.Monday(s.numbers.Yield[y].First+i).Year()-2027] += float64(grams)
			}
			for k, want := range c.springs {
				if (springs[k] > 0) != want {
					t.Errorf("planted %s, weather of %s: %.0f g in the spring of %d", c.planted, l.years[y], springs[k], 2027+k)
				}
			}
			if c.planted.Year() == 2026 && springs[0] >= springs[1] {
				t.Errorf("planted %s: %.0f g in its first season, %.0f in its second", c.planted, springs[0], springs[1])
			}
		}
	}
}
