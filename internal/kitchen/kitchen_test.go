package kitchen

import (
	"math"
	"strings"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/garden"
	"haulm/internal/weather"
)

func near(a, b, allowed float64) bool { return math.Abs(a-b) <= allowed }

func TestTablesAreSound(t *testing.T) {
	set, err := readTables()
	if err != nil {
		t.Fatal(err)
	}
	var sources []Source
	previous := math.Inf(1)
	for _, r := range set.tiers {
		if !(r.share > 0) || !(r.value > 0) || r.value >= previous {
			t.Errorf("tier %+v: shares and values must be above 0 and values must fall", r)
		}
		previous = r.value
		sources = append(sources, r.Source)
	}
	if len(set.tiers) == 0 || set.tiers[0].value != 1 {
		t.Error("the first portion must be worth 1: it is the unit")
	}
	for _, r := range set.hungry {
		if r.bonus < 1 || r.bonus > 3 {
			t.Errorf("%s: a bonus of %g", r.name, r.bonus)
		}
		sources = append(sources, r.Source)
	}
	seen := map[string]bool{}
	for _, r := range set.wants {
		if seen[r.dish] || !(r.perPerson > 0 && r.perPerson < 10) || !(r.liking > 0 && r.liking <= 2) {
			t.Errorf("want %+v", r)
		}
		seen[r.dish] = true
		sources = append(sources, r.Source)
	}
	for _, s := range sources {
		if s.Name == "" || !strings.Contains("S SM D M P E", string(s.Grade)) || s.Grade == "" {
			t.Errorf("a figure without source or grade: %+v", s)
		}
	}
	if !(set.noneBelow < set.above) {
		t.Errorf("latitudes %g and %g", set.noneBelow, set.above)
	}
}

func TestNeed(t *testing.T) {
	g := garden.Demo()
	if got := Need(g); got != 35 {
		t.Errorf("four people at 1.25 portions a day: got %g a week, want 35", got)
	}
}

func TestPortionsPerKg_USDASR28AndNHSPortion(t *testing.T) {
	// Portions per kg of harvest as printed in the reference table of values
	// (USDA SR28 refuse, 80 g portion), to its one decimal.
	for _, c := range []struct {
		crop             string
		edible, portions float64
	}{{"leek", 44, 5.5}, {"French bean", 88, 11.0}, {"pea, shelled", 38, 4.8}, {"cauliflower", 39, 4.9}} {
		got, err := PortionsPerKg(crop.Portion{Grams: 80, EdiblePC: c.edible})
		if err != nil || !near(got, c.portions, 0.051) {
			t.Errorf("%s: got %.3f (%v), want %.1f", c.crop, got, err, c.portions)
		}
	}
	for _, p := range []crop.Portion{{}, {Grams: 80}, {EdiblePC: 50}, {Grams: 80, EdiblePC: 101}, {Grams: math.NaN(), EdiblePC: 50}} {
		if _, err := PortionsPerKg(p); err == nil {
			t.Errorf("%+v passed", p)
		}
	}
}

func TestTiersScaleWithAppetiteAndLiking(t *testing.T) {
	const perKg = 10
	usual := Tiers(garden.Want{PortionsPerWeek: 10, Liking: 1}, perKg)
	if got := usual[0].ValuePerKg / perKg; got != 1 {
		t.Errorf("the first portion of a usual dish is worth %g, want 1", got)
	}
	wanted := 0.0
	for _, tier := range usual[:2] {
		wanted += tier.KgPerWeek
	}
	if !near(wanted, 1, 1e-12) {
		t.Errorf("the first two tiers hold %g kg, want the 10 portions wanted, 1 kg", wanted)
	}
	loved := Tiers(garden.Want{PortionsPerWeek: 20, Liking: 2}, perKg)
	for k := range usual {
		if loved[k].KgPerWeek != 2*usual[k].KgPerWeek || loved[k].ValuePerKg != 2*usual[k].ValuePerKg {
			t.Errorf("tier %d: %+v against %+v", k, loved[k], usual[k])
		}
	}
	if Tiers(garden.Want{PortionsPerWeek: 10}, perKg) != nil || Tiers(garden.Want{Liking: 1}, perKg) != nil {
		t.Error("a dish not liked or not wanted has an appetite")
	}
}

// The dates are those of data/hungry.csv; its two sizes are stated here so that
// changing them is noticed.
func TestHungryBonus(t *testing.T) {
	const gap, winter = 1.9, 1.5
	north := weather.Site{LatDeg: 53.4}
	south := weather.Site{LatDeg: -53.4}
	cases := []struct {
		site weather.Site
		day  string
		want float64
	}{
		{north, "2027-04-20", gap}, {north, "2027-03-10", gap}, {north, "2027-03-09", winter},
		{north, "2027-08-01", 1}, {north, "2027-12-31", winter}, {north, "2027-01-01", winter}, {north, "2027-06-06", 1},
		{south, "2027-10-20", gap}, {south, "2027-02-01", 1}, {south, "2027-07-01", winter}, {south, "2027-08-31", winter},
		{weather.Site{LatDeg: -15.8}, "2027-10-20", 1},
		{weather.Site{LatDeg: 35}, "2027-04-20", (1 + gap) / 2}, // halfway between none and all
	}
	for _, c := range cases {
		day, err := calendar.Parse(c.day)
		if err != nil {
			t.Fatal(err)
		}
		if got := HungryBonus(c.site, day); !near(got, c.want, 1e-12) {
			t.Errorf("%s at %g degrees: got %g, want %g", c.day, c.site.LatDeg, got, c.want)
		}
	}
	monday := calendar.On(2027, 1, 4)
	weeks := HungryBonuses(north, monday, 52)
	if len(weeks) != 52 || weeks[0] != winter || weeks[15] != gap || weeks[30] != 1 {
		t.Errorf("weeks: %v", weeks)
	}
}

func TestDishesShareAnAppetite(t *testing.T) {
	crops := []*crop.Crop{
		{Key: "a", Dish: "cabbage", Portion: crop.Portion{Grams: 80, EdiblePC: 80}, Keeping: crop.Keeping{WeeklyKeep: 0.5}},
		{Key: "b", Dish: "cabbage", Portion: crop.Portion{Grams: 80, EdiblePC: 64}, Keeping: crop.Keeping{WeeklyKeep: 0.9, Stored: true}},
		{Key: "c", Dish: "leek", Portion: crop.Portion{Grams: 80, EdiblePC: 44}},
	}
	g := &garden.Garden{Wants: []garden.Want{{Dish: "leek", PortionsPerWeek: 4}, {Dish: "cabbage", PortionsPerWeek: 9, Liking: 1}}}
	dishes, err := Dishes(g, crops)
	if err != nil || len(dishes) != 1 {
		t.Fatalf("got %v, %v", dishes, err)
	}
	d := dishes[0]
	if d.Name != "cabbage" || len(d.Crops) != 2 || d.PortionsPerKg != 9 || d.WeeklyKeep != 0.9 || !d.Stored {
		t.Errorf("got %+v", d)
	}
	crops[1].Keeping.Stored = false
	if got := dishKeep(crops[:2]); !near(got, 0.7, 1e-12) {
		t.Errorf("two crops not stored: keep %g, want their mean 0.7", got)
	}
	g.Wants = []garden.Want{{Dish: "moon", PortionsPerWeek: 1, Liking: 1}}
	if _, err := Dishes(g, crops); err == nil || !strings.Contains(err.Error(), `want "moon": no crop makes this dish`) {
		t.Errorf("unknown dish: %v", err)
	}
}

func TestDefaultWants(t *testing.T) {
	wants := DefaultWants([]string{"potatoes", "kale", "not a usual one"}, 2)
	if len(wants) != 2 || wants[0].Dish != "potatoes" || wants[0].PortionsPerWeek != 4 || wants[1].Dish != "kale" {
		t.Errorf("got %+v", wants)
	}
	g := garden.Demo()
	g.Wants = DefaultWants(nil, g.Household.People)
	if err := garden.Check(g); err != nil || len(g.Wants) < 20 {
		t.Errorf("%d wants: %v", len(g.Wants), err)
	}
}

func TestCatalogueServesTheWants(t *testing.T) {
	catalogue, err := crop.Load()
	if err != nil {
		t.Fatal(err)
	}
	g := garden.Demo()
	for name, wants := range map[string][]garden.Want{"demonstration": g.Wants, "default": DefaultWants(nil, 4)} {
		g.Wants = wants
		dishes, err := Dishes(g, catalogue.Crops())
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for _, d := range dishes {
			if !(d.WeeklyKeep > 0 && d.WeeklyKeep <= 1) || len(d.Tiers) == 0 {
				t.Errorf("%s: %+v", name, d)
			}
		}
	}
}
