package garden

import (
	"math"
	"slices"
	"strings"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/crop"
)

func TestCheckSaysWhatWhereAndWhatToDo(t *testing.T) {
	cases := []struct {
		name  string
		spoil func(*Garden)
		want  string
	}{
		{"no places", func(g *Garden) { g.Places = nil }, `garden "Lowmoor Cottage" has no places; add at least one bed`},
		{"bed of 0 m", func(g *Garden) { g.Places[0].LengthM = 0 }, `place "Long bed": length is 0; give a number from 0.3 to 100 m`},
		{"bed of 10,000 m", func(g *Garden) { g.Places[1].LengthM = 10000 }, `place "Middle bed": length is 10000; give a number from 0.3 to 100 m`},
		{"bed of no number", func(g *Garden) { g.Places[1].LengthM = math.NaN() }, `place "Middle bed": length is nan`},
		{"width in centimetres", func(g *Garden) { g.Places[0].WidthM = 120 }, `place "Long bed": width is 120; give a number from 0.2 to 10 m`},
		{"no width", func(g *Garden) { g.Places[0].WidthM = 0 }, `width is 0`},
		{"negative sun", func(g *Garden) { g.Places[0].SunHours = -1 }, `place "Long bed": hours of sun is -1; give a number from 0 to 24 a day`},
		{"endless sun", func(g *Garden) { g.Places[0].SunHours = 24.5 }, `hours of sun is 24.5`},
		{"unknown kind", func(g *Garden) { g.Places[0].Kind = "field" }, `kind "field" is not known; write one of bed, border, covered, pots`},
		{"unknown cover", func(g *Garden) { g.Places[0].Cover = "tent" }, `cover "tent" is not known; write one of fleece, double_fleece, cloche, frame, tunnel, greenhouse, or leave it out`},
		{"covered by nothing", func(g *Garden) { g.Places[6].Cover = "" }, `place "Cold frame": it is covered, but no cover is named`},
		{"twin names", func(g *Garden) { g.Places[1].Name = "long bed" }, `two places are called "long bed"`},
		{"no name", func(g *Garden) { g.Places[2].Name = " " }, `place 3 has no name`},
		{"control signs", func(g *Garden) { g.Places[2].Name = "a\x1bb" }, `signs that cannot be shown`},
		{"pots with length", func(g *Garden) { g.Places[7].LengthM = 2 }, `place "Yard pots": pots have litres, not a length or width`},
		{"no pots", func(g *Garden) { g.Places[7].Pots = 0 }, `the number of pots is 0`},
		{"giant pot", func(g *Garden) { g.Places[7].Litres = 500 }, `the size of a pot is 500; give a number from 1 to 90 litres`},
		{"bed with pots", func(g *Garden) { g.Places[0].Pots = 3 }, `place "Long bed": a bed has a length and width`},
		{"history past the end", func(g *Garden) { g.History[0].ToCM = 721 }, `cabbage_summer grown in "Long bed": from 0 to 721 cm runs outside it; it is 720 cm long`},
		{"history before the start", func(g *Garden) { g.History[0].FromCM = -1 }, `runs outside it`},
		{"history of no ground", func(g *Garden) { g.History[0].ToCM = 0 }, `is no ground`},
		{"history elsewhere", func(g *Garden) { g.History[0].Place = "Longbed" }, `there is no place "Longbed"; did you mean "Long bed"?`},
		{"history year", func(g *Garden) { g.History[0].Year = 26 }, `year is 26`},
		{"overlap", func(g *Garden) { g.Standing[1].FromCM = 110 }, `place "Long bed": garlic (0 to 120 cm) and onion_autumn_sets (110 to 300 cm) stand on the same ground`},
		{"standing past the pots", func(g *Garden) {
			g.Standing[0].Place, g.Standing[0].FromCM, g.Standing[0].ToCM = "Yard pots", 250, 350
		}, `it is 300 cm long`},
		{"standing since never", func(g *Garden) { g.Standing[0].Started = calendar.None }, `the day it was sown or planted is missing`},
		{"set out before sown", func(g *Garden) { g.Standing[2].SetOut = g.Standing[2].Started - 1 }, `put the dates in order`},
		{"nobody", func(g *Garden) { g.Household.People = 0 }, `household: the number of people is 0; give a number from 1 to 30`},
		{"200 people", func(g *Garden) { g.Household.People = 200 }, `the number of people is 200`},
		{"negative minutes", func(g *Garden) { g.Household.MinutesPerWeek = -5 }, `minutes per week is -5; give a number from 0 to 10080`},
		{"more minutes than a week has", func(g *Garden) { g.Household.MinutesPerWeek = 10081 }, `minutes per week is 10081`},
		{"experience", func(g *Garden) { g.Household.Experience = "lots" }, `experience "lots" is not known; write one of new, some, long`},
		{"off the pole", func(g *Garden) { g.Site.LatDeg = 90.1 }, `site: latitude is 90.1; give a number from -90 to 90 degrees`},
		{"off the map", func(g *Garden) { g.Site.LonDeg = -181 }, `longitude is -181`},
		{"no weather", func(g *Garden) { g.WeatherRef = "" }, `no weather is named`},
		{"weather with control signs", func(g *Garden) { g.WeatherRef = "a\x00b" }, `the weather record: its name "a\x00b" holds signs`},
		{"route with control signs", func(g *Garden) { g.Standing[0].Route = "a\nb" }, `garlic standing in "Long bed": the route: its name "a\nb" holds signs`},
		{"want twice", func(g *Garden) { g.Wants[1].Dish = "potatoes" }, `want "potatoes": it stands twice`},
		{"liking", func(g *Garden) { g.Wants[0].Liking = 3 }, `want "potatoes": liking is 3; give a number from 0 to 2`},
		{"negative portions", func(g *Garden) { g.Wants[0].PortionsPerWeek = -1 }, `portions per week is -1`},
		{"lock elsewhere", func(g *Garden) { g.Locks[0].Place = "Moon" }, `lock on "potatoes": there is no place "Moon"`},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			g := Demo()
			c.spoil(g)
			err := Check(g)
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got  %v\nwant … %s …", err, c.want)
			}
		})
	}
	if err := Check(nil); err == nil {
		t.Error("no garden at all passed")
	}
}

func TestCheckNames(t *testing.T) {
	names := Names{Dishes: []string{"potato", "leek"}, Crops: []string{"leek", "garlic"}}
	g := &Garden{Wants: []Want{{Dish: "potatoe"}}}
	if err := CheckNames(g, names); err == nil || err.Error() != `want: no dish is called "potatoe"; did you mean "potato"?` {
		t.Errorf("dish: %v", err)
	}
	g = &Garden{Standing: []Standing{{Place: "A", Crop: "leak"}}}
	if err := CheckNames(g, names); err == nil || !strings.Contains(err.Error(), `standing in "A": no crop is called "leak"; did you mean "leek"?`) {
		t.Errorf("crop: %v", err)
	}
	g = &Garden{Locks: []Lock{{Dish: "quince"}}}
	if err := CheckNames(g, names); err == nil || !strings.Contains(err.Error(), "known here: potato, leek") {
		t.Errorf("lock: %v", err)
	}
	if err := CheckNames(g, Names{}); err != nil {
		t.Errorf("without lists nothing is checked, got %v", err)
	}
}

func TestDemo(t *testing.T) {
	g := Demo()
	if err := Check(g); err != nil {
		t.Fatal(err)
	}
	area := 0.0
	for _, p := range g.Places {
		area += p.LengthM * p.WidthM
	}
	if len(g.Places) != 8 || g.Household.People != 4 || area < 40 || area > 45 {
		t.Errorf("got %d places, %d people, %.1f m2 of beds", len(g.Places), g.Household.People, area)
	}
	january := calendar.On(2027, 1, 4)
	for _, s := range g.Standing {
		if s.Started >= january {
			t.Errorf("%s started on %s, after %s", s.Crop, s.Started, january)
		}
	}
	if Demo() == g {
		t.Error("two calls share one garden")
	}
}

func TestDemoUsesTheCatalogueWords(t *testing.T) {
	catalogue, err := crop.Load()
	if err != nil {
		t.Fatal(err)
	}
	g := Demo()
	if err := CheckNames(g, NamesOf(catalogue.Crops())); err != nil {
		t.Error(err)
	}
	for _, s := range g.Standing {
		c := catalogue.Crop(s.Crop)
		if c == nil {
			continue // reported above
		}
		if _, err := c.Route(s.Route); err != nil {
			t.Error(err)
		}
		if _, ok := c.Class(s.Class); !ok {
			t.Errorf("%s has no class %q", s.Crop, s.Class)
		}
	}
}

func TestCoversAreThoseOfTheCatalogue(t *testing.T) {
	catalogue, err := crop.Load()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range covers {
		if _, err := catalogue.Cover(name); err != nil && name != "" {
			t.Error(err)
		}
	}
	for _, cover := range catalogue.Covers() {
		if !slices.Contains(covers, cover.Key) {
			t.Errorf("a place cannot have the catalogue's cover %q", cover.Key)
		}
	}
}

func TestNearest(t *testing.T) {
	names := []string{"length_m", "width_m", "sun_hours"}
	for typed, want := range map[string]string{"lenght_m": "length_m", "length": "length_m", "Sun_hours": "sun_hours", "colour": ""} {
		if got := Nearest(typed, names); got != want {
			t.Errorf("Nearest(%q) = %q, want %q", typed, got, want)
		}
	}
}
