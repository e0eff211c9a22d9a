package cropping

import (
	"slices"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/garden"
	"haulm/internal/plan"
)

// restGarden has beds of strips of 25 cm, in which a row of lettuces, 35 cm, holds
// two strips and ends in the second, some pots, and little room indoors.
func restGarden(w world) *garden.Garden {
	g := onePlace(garden.Place{Name: "B", Kind: garden.Bed, LengthM: 3, WidthM: 1.2, SunHours: 8})
	g.Places = append(g.Places, garden.Place{Name: "P", Kind: garden.Pots, Pots: 4, Litres: 25, SunHours: 8})
	g.Household.IndoorTrays = 0.65
	g.Wants = nil
	for _, key := range []string{"lettuce_head", "carrot_early", "cabbage_summer", "kale"} {
		g.Wants = append(g.Wants, garden.Want{Dish: w.catalogue.Crop(key).Dish, PortionsPerWeek: 4, Liking: 1})
	}
	// It moves the first weather year: what must be whole begins in spring.
	g.Standing = []garden.Standing{{Place: "B", FromCM: 275, ToCM: 300, Crop: "kale", Route: "module", Started: calendar.On(2026, 5, 4), SetOut: calendar.On(2026, 6, 15)}}
	return g
}

// restBegun are plantings begun before the rest is planned on 24 June, as the plan
// keeps them.
func restBegun() []Saved {
	return []Saved{
		{Crop: "lettuce_head", Class: "mid", Route: "module", Place: "B", FromCM: 0, ToCM: 50, Start: calendar.On(2027, 6, 21)},
		{Crop: "lettuce_head", Class: "mid", Route: "module", Place: "B", FromCM: 50, ToCM: 100, Start: calendar.On(2027, 6, 14)},
		{Crop: "cabbage_summer", Class: "mid", Route: "module", Place: "B", FromCM: 100, ToCM: 150, Start: calendar.On(2027, 4, 5), Until: calendar.On(2027, 6, 28)},
		{Crop: "cabbage_summer", Class: "mid", Route: "module", Place: "P", FromCM: 0, ToCM: 100, Start: calendar.On(2027, 4, 5), Until: calendar.On(2027, 6, 28)},
	}
}

// restLay is what the rest is planned in: what was begun as the season tells of
// it, by rows, out a week sooner than planned, the cabbages lost.
func restLay(t *testing.T, w world) *Lay {
	t.Helper()
	q := w.question(restGarden(w))
	q.Only = false
	q.Today, q.Begun = calendar.On(2027, 6, 24), restBegun()
	for _, s := range q.Garden.Standing {
		q.Stood = append(q.Stood, garden.Grown{Place: s.Place, FromCM: s.FromCM, ToCM: s.ToCM, Crop: s.Crop, Year: 2027})
	}
	for _, s := range q.Begun {
		cr := w.catalogue.Crop(s.Crop)
		route, err := cr.Route(s.Route)
		if err != nil {
			t.Fatal(err)
		}
		to := s.ToCM
		if s.Place == "B" {
			to = s.FromCM + int(route.BetweenRowCM)
		}
		if s.Until != 0 {
			q.Stood = append(q.Stood, garden.Grown{Place: s.Place, FromCM: s.FromCM, ToCM: to, Crop: s.Crop, Year: 2027})
			continue
		}
		q.Given = append(q.Given, Given{
			Crop: cr, Class: s.Class, Route: route, Place: s.Place, FromCM: s.FromCM, ToCM: to, Start: s.Start,
			SetOut: s.Start.Add(28), Rests: []Rest{{Past: q.Today, Clear: calendar.On(2027, 9, 20)}},
		})
	}
	l, err := NewLay(q)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// What the rest's layout lets be planted beside what was begun fits when the plan
// is told again with both: the ground beyond the last row, the family's rest, pots
// and the room indoors are the same in the two.
func TestWhatFitsBesideTheBegunFitsWhenToldAgain(t *testing.T) {
	w := newWorld(t)
	rest, told := restLay(t, w), w.lay(t, restGarden(w))
	if len(rest.years) != len(told.years) {
		t.Fatalf("the rest is planned over %d weather years, the plan over %d", len(rest.years), len(told.years))
	}
	if fit, unfit := told.Match(restBegun()); len(fit) != len(restBegun()) {
		t.Fatalf("begun plantings side by side do not fit: %+v", unfit)
	}
	fits, refused := 0, map[string]int{}
	for _, s := range restTrials() {
		if _, unfit := rest.Match([]Saved{s}); len(unfit) > 0 {
			refused[unfit[0].Why]++
			continue
		}
		fits++
		if _, unfit := told.Match(append(restBegun(), s)); len(unfit) > 0 {
			t.Errorf("%s in %s, %d to %d cm, from %s fits the rest, and when told again not: %s", s.Crop, s.Place, s.FromCM, s.ToCM, s.Start, unfit[0].Why)
		}
	}
	if fits == 0 {
		t.Error("nothing fits beside what was begun")
	}
	for _, why := range []string{"its ground is not free then", "its family stood there too lately", "there is no room left indoors to raise it"} {
		if refused[why] == 0 {
			t.Errorf("nothing is refused because %s: %v", why, refused)
		}
	}
}

// restTrials are plantings of later weeks on every stretch.
func restTrials() []Saved {
	var out []Saved
	for _, s := range []Saved{
		{Crop: "carrot_early", Class: "mid", Route: "drilled", Place: "B", ToCM: 50},
		{Crop: "kale", Class: "mid", Route: "module", Place: "B", ToCM: 50},
		{Crop: "lettuce_head", Class: "mid", Route: "module", Place: "B", ToCM: 75},
		{Crop: "lettuce_head", Class: "mid", Route: "module", Place: "B", ToCM: 150},
		{Crop: "kale", Class: "mid", Route: "module", Place: "P", ToCM: 50},
	} {
		for s.Start = calendar.On(2027, 6, 28); s.Start < calendar.On(2027, 8, 1); s.Start = s.Start.Add(7) {
			for at := s; at.ToCM <= 300 && (at.Place == "B" || at.ToCM <= 200); {
				out = append(out, at)
				step := 25
				if at.Place == "P" {
					step = garden.PotPitchCM
				}
				at.FromCM, at.ToCM = at.FromCM+step, at.ToCM+step
			}
		}
	}
	return out
}

// What begun plantings take of the trays is not there for others: two that would fit
// one by one break no rule but that, and no way towards them ends with both.
func TestNearerLeavesTheBegunTheirTrays(t *testing.T) {
	rest := restLay(t, newWorld(t))
	var found []plan.Planting
	for _, from := range []int{100, 175} {
		p, why := rest.find(Saved{Crop: "lettuce_head", Class: "mid", Route: "module", Place: "B", FromCM: from, ToCM: from + 75, Start: calendar.On(2027, 6, 28)})
		if broken := plan.Validate(rest.Problem, []plan.Planting{p}); why != "" || len(broken) > 0 {
			t.Fatalf("one planting finds no room: %s %v", why, broken)
		}
		found = append(found, p)
	}
	broken := plan.Validate(rest.Problem, found)
	if len(broken) == 0 || slices.ContainsFunc(broken, func(v plan.Violation) bool { return v.Rule != "tray" }) {
		t.Fatalf("both must break no rule but the room beside what was begun: %v", broken)
	}
	for i := range found {
		near := rest.Nearer(found[i:i+1], found[1-i:2-i])
		if broken := plan.Validate(rest.Problem, near); len(broken) > 0 {
			t.Errorf("%v has no room: %v", near, broken)
		}
	}
	alone := *rest.Problem
	alone.TrayTaken = nil
	if broken := plan.Validate(&alone, found); len(broken) > 0 {
		t.Errorf("without what was begun both must fit: %v", broken)
	}
}
