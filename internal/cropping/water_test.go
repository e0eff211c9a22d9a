package cropping

import (
	"testing"

	"haulm/internal/garden"
)

// gramsAndTenths sums the grams and the minutes of a lay's choices, by crop.
func gramsAndTenths(l *Lay) (grams, tenths map[string]float64) {
	grams, tenths = map[string]float64{}, map[string]float64{}
	for i := range l.choices {
		c := &l.choices[i]
		for _, y := range c.numbers.Yield {
			for _, g := range y.Grams {
				grams[c.crop.Key] += float64(g)
			}
		}
		for _, t := range c.numbers.Labour {
			tenths[c.crop.Key] += float64(t)
		}
	}
	return grams, tenths
}

// onePlace is the demonstration household with one place to grow in.
func onePlace(p garden.Place) *garden.Garden {
	g := garden.Demo()
	g.Standing, g.History, g.Locks, g.InStore = nil, nil, nil, nil
	g.Places = []garden.Place{p}
	return g
}

// A bed that nobody waters gives less, of thirsty crops above all, costs no
// cans, and so is planned otherwise; light sand gives less than loam.
func TestARainFedBedIsPlannedOtherwise(t *testing.T) {
	w := newWorld(t)
	bed := garden.Place{Name: "B", Kind: garden.Bed, LengthM: 4, WidthM: 1.2, SunHours: 8}
	dry, sand := bed, bed
	dry.RainFed = true
	sand.RainFed, sand.Soil = true, "sand"
	wateredGrams, wateredTenths := gramsAndTenths(w.lay(t, onePlace(bed)))
	dryGrams, dryTenths := gramsAndTenths(w.lay(t, onePlace(dry)))
	sandGrams, _ := gramsAndTenths(w.lay(t, onePlace(sand)))
	for _, key := range []string{"courgette", "lettuce_leaf", "potato_first_early", "french_bean_bush"} {
		if dryGrams[key] >= wateredGrams[key] || sandGrams[key] >= dryGrams[key] {
			t.Errorf("%s: %.0f g watered, %.0f rain-fed on loam, %.0f on sand", key, wateredGrams[key], dryGrams[key], sandGrams[key])
		}
		if dryTenths[key] >= wateredTenths[key] {
			t.Errorf("%s: %.0f tenths of a minute watered, %.0f rain-fed", key, wateredTenths[key], dryTenths[key])
		}
	}
}

// Watered pots bear more than thirsty ones, and cost the minutes of their cans.
func TestPotsCostTheirCans(t *testing.T) {
	w := newWorld(t)
	pots := garden.Place{Name: "P", Kind: garden.Pots, Pots: 6, Litres: 30, SunHours: 8}
	thirsty := pots
	thirsty.RainFed = true
	wateredGrams, wateredTenths := gramsAndTenths(w.lay(t, onePlace(pots)))
	dryGrams, dryTenths := gramsAndTenths(w.lay(t, onePlace(thirsty)))
	for _, key := range []string{"tomato_bush", "lettuce_leaf", "french_bean_bush"} {
		if wateredGrams[key] == 0 || dryGrams[key] >= wateredGrams[key] {
			t.Errorf("%s: %.0f g watered, %.0f with rain only", key, wateredGrams[key], dryGrams[key])
		}
		if dryGrams[key] > 0 && dryTenths[key] >= wateredTenths[key] {
			t.Errorf("%s: %.0f tenths of a minute watered, %.0f with rain only", key, wateredTenths[key], dryTenths[key])
		}
	}
}
