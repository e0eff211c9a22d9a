package cropping

import (
	"reflect"
	"strings"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/garden"
	"haulm/internal/plan"
)

// What the gardener keeps is in every plan: on its day, or every year; what
// cannot be is refused with the reason and the plan is made without it.
func TestKeptPlantingsAreInThePlan(t *testing.T) {
	g := garden.Demo()
	g.Standing, g.History, g.Locks = nil, nil, nil
	bed := g.Places[0]
	g.Keeps = []garden.Keep{
		{Place: bed.Name, FromCM: 0, ToCM: 100, Crop: "lettuce_head", Route: "module", Class: "mid", Start: calendar.On(2027, 5, 3)},
		{Place: bed.Name, FromCM: 200, ToCM: 300, Crop: "leek", Start: calendar.None},
		{Place: bed.Name, FromCM: 50, ToCM: 150, Crop: "lettuce_head", Route: "module", Class: "mid", Start: calendar.On(2027, 5, 3)}, // on the first one's ground
		{Place: bed.Name, FromCM: 300, ToCM: 400, Crop: "lettuce_head", Route: "module", Class: "mid", Start: calendar.On(2025, 5, 3)},
	}
	l := newWorld(t).lay(t, g)
	if len(l.Problem.Fixed) != 2 {
		t.Fatalf("%d plantings are fixed, refused: %v", len(l.Problem.Fixed), l.Refused())
	}
	if r := l.Refused(); len(r) != 1 || r[0].FromCM != 50 || !strings.Contains(r[0].Why, "taken by something else") {
		t.Errorf("refused: %+v", r)
	}
	tidied := l.Tidy(quick(l).Plantings)
	for _, f := range l.Problem.Fixed {
		found := false
		for _, p := range tidied.Plantings {
			found = found || p == f
		}
		if !found {
			t.Errorf("%s kept in %s is not in the plan", l.choices[f.Cand].crop.Name, bed.Name)
		}
	}
	leek := l.choices[l.Problem.Fixed[1].Cand]
	alone := func(p plan.Planting) float64 {
		v, _ := plan.Evaluate(l.Problem, []plan.Planting{l.Problem.Fixed[0], p})
		return v.Total
	}
	for i := range l.choices {
		c := &l.choices[i]
		if c.crop != leek.crop || c.kind != leek.kind {
			continue
		}
		other := l.Problem.Fixed[1]
		other.Cand = i
		if len(plan.Validate(l.Problem, []plan.Planting{l.Problem.Fixed[0], l.Problem.Fixed[1]})) == 0 && alone(other) > alone(l.Problem.Fixed[1])+1e-9 {
			t.Errorf("leeks begun in week %d would be worth more than in week %d", c.sowWeek, leek.sowWeek)
		}
	}
}

// A plan that the season overtook is found again: ground free sooner, plants
// out later.
func TestOvertakenPlantingsAreFoundAgain(t *testing.T) {
	w := newWorld(t)
	l := w.lay(t, garden.Demo())
	saved := l.Save(quick(l).Plantings)
	var cut Saved
	for _, s := range saved {
		if s.Start > calendar.On(2027, 2, 1) && s.Start < calendar.On(2027, 6, 1) {
			cut = s
		}
	}
	cut.Until = cut.Start.Add(70).Monday()
	again := w.lay(t, garden.Demo())
	found, unfit := again.Match([]Saved{cut})
	if len(unfit) > 0 || len(found) != 1 {
		t.Fatalf("%+v: %v", cut, unfit)
	}
	if c := again.choices[found[0].Cand].numbers; c.End > max(int(cut.Until-again.from)/7, c.Start+1) {
		t.Errorf("its ground is free in week %d, not on %s", c.End, cut.Until)
	}
	if back := again.Save(found); back[0] != cut {
		t.Errorf("saved again it is %+v, was %+v", back[0], cut)
	}
}

// A layout that grows only what it is asked for gives every planting the same
// numbers as one that grows everything.
func TestALayoutOnlyForTellingAgrees(t *testing.T) {
	w := newWorld(t)
	l := w.lay(t, garden.Demo())
	plantings := quick(l).Plantings
	q := w.question(garden.Demo())
	q.Only = true
	only, err := NewLay(q)
	if err != nil {
		t.Fatal(err)
	}
	found, unfit := only.Match(l.Save(plantings))
	if len(found) != len(plantings) || len(unfit) > 0 {
		t.Fatalf("%d of %d plantings found, unfit %v", len(found), len(plantings), unfit)
	}
	for i := range found {
		if a, b := l.choices[plantings[i].Cand], only.choices[found[i].Cand]; !reflect.DeepEqual(a.numbers, b.numbers) {
			t.Errorf("%s by %s in week %d has other numbers", a.crop.Name, a.route.Name, a.sowWeek)
		}
	}
}
