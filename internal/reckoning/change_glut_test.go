package reckoning

import (
	"strings"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/diary"
	"haulm/internal/garden"
)

// gluts are told of a garden that wants two portions of a dish a week, of which
// one crop was lost in May and so many kilograms were picked of others in
// September.
func gluts(t *testing.T, dish, lost string, picked map[string]float64) []Change {
	t.Helper()
	in := invented(t)
	in.Garden.Wants = []garden.Want{{Dish: dish, PortionsPerWeek: 2, Liking: 1}}
	b := &inventor{t, in.Catalogue, nil}
	plant := func(key string) string {
		usual := in.Catalogue.Crop(key).UsualRoute().Key
		return b.add(key, usual, in.Garden.Places[0], 0, 100, on(3, 20), calendar.None, on(11, 1), on(9, 1), nil)
	}
	entries := []diary.Entry{}
	if lost != "" {
		key := plant(lost)
		entries = append(entries, diary.Entry{Kind: diary.Picked, Day: on(5, 10), Planting: key, Amount: 100, Unit: diary.Gram}, diary.Entry{Kind: diary.Lost, Day: on(5, 12), Planting: key})
	}
	for crop, kg := range picked {
		key := plant(crop)
		entries = append(entries, diary.Entry{Kind: diary.Sown, Day: on(3, 20), Planting: key}, diary.Entry{Kind: diary.Picked, Day: on(9, 6), Planting: key, Amount: kg, Unit: diary.Kilogram})
	}
	in.Plantings, in.Diary = b.plantings, byDay(entries)
	r, err := Reckon(in)
	if err != nil {
		t.Fatal(err)
	}
	var out []Change
	for _, c := range r.Changes {
		if strings.Contains(c.Do, "at once") {
			out = append(out, c)
		}
	}
	return out
}

// What keeps is no glut, and is not laid at the door of what does not.
func TestWhatKeepsIsNoGlut(t *testing.T) {
	if got := gluts(t, "carrots", "carrot_early", map[string]float64{"carrot_main": 20}); len(got) != 0 {
		t.Errorf("20 kg of maincrop carrots, early ones lost in May: %+v", got)
	}
	if got := gluts(t, "carrots", "", map[string]float64{"carrot_main": 20, "carrot_early": 0.2}); len(got) != 0 {
		t.Errorf("20 kg of maincrop carrots beside a handful of early ones: %+v", got)
	}
	got := gluts(t, "carrots", "", map[string]float64{"carrot_main": 20, "carrot_early": 6})
	if len(got) != 1 || got[0].Crop != "Carrot (early)" || strings.Contains(got[0].Numbers, "of them") {
		t.Errorf("6 kg of early carrots beside the maincrop: %+v", got)
	}
}

// Of several that do not keep, the one picked most is told of, once, with its
// part; chard comes before spinach by name.
func TestTheCropPickedMostIsToldOf(t *testing.T) {
	got := gluts(t, "spinach and chard", "chard", map[string]float64{"spinach": 9, "amaranth": 3})
	if len(got) != 1 || got[0].Crop != "Spinach" || !strings.Contains(got[0].Numbers, "of them spinach, came in the 4 weeks from 6 September") {
		t.Fatalf("9 kg of spinach and 3 of amaranth: %+v", got)
	}
	in := invented(t)
	c := in.Catalogue.Crop("spinach")
	if all := 9*portionsPerKg(c) + 3*portionsPerKg(in.Catalogue.Crop("amaranth")); got[0].weight != all-8 {
		t.Errorf("%g portions too many, want %g", got[0].weight, all-8)
	}
	if got := gluts(t, "spinach and chard", "chard", map[string]float64{"amaranth": 9, "spinach": 3}); len(got) != 1 || got[0].Crop != "Leaf amaranth" {
		t.Errorf("9 kg of amaranth and 3 of spinach: %+v", got)
	}
}
