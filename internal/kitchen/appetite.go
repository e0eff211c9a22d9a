package kitchen

import (
	"errors"
	"fmt"
	"slices"

	"haulm/internal/crop"
	"haulm/internal/garden"
)

// Tier is a part of the week's appetite for a dish: the table takes up to
// KgPerWeek of it, harvested weight, at ValuePerKg. Value is in portions (see
// the package comment).
type Tier struct {
	KgPerWeek  float64
	ValuePerKg float64
}

// Dish is one wanted dish with what the plan has to know of it.
type Dish struct {
	Name           string
	Want           garden.Want
	Crops          []*crop.Crop // the crops that make it
	PortionsPerKg  float64      // of harvested weight; the mean of its crops
	WeeklyKeep     float64      // share of a store still good a week later; see dishKeep
	Stored         bool         // any of its crops is kept for months
	Tiers          []Tier
	PortionsWanted float64 // a week, in season
}

// Need is how many portions a week the household wants from its garden, all
// dishes together.
func Need(g *garden.Garden) float64 {
	const daysPerWeek = 7
	return float64(g.Household.People) * g.Household.PortionsPerDay * daysPerWeek
}

// PortionsPerKg is how many portions a kilogram of harvest gives.
// It fails when the portion's size or edible share is not a positive number.
func PortionsPerKg(p crop.Portion) (float64, error) {
	if !(p.Grams > 0) || !(p.EdiblePC > 0 && p.EdiblePC <= 100) {
		return 0, fmt.Errorf("a portion of %g g with %g %% edible cannot be counted; both must be above 0", p.Grams, p.EdiblePC)
	}
	const gramsPerKg, percent = 1000, 100
	return gramsPerKg * p.EdiblePC / percent / p.Grams, nil
}

// Tiers is the appetite for one dish, dearest first: the shares and values of
// data/tiers.csv, scaled by the portions wanted and by how the dish is liked.
// A dish that is not liked or not wanted has none.
func Tiers(w garden.Want, portionsPerKg float64) []Tier {
	if !(w.Liking > 0) || !(w.PortionsPerWeek > 0) || !(portionsPerKg > 0) {
		return nil
	}
	var tiers []Tier
	for _, rule := range tables().tiers {
		tiers = append(tiers, Tier{
			KgPerWeek:  rule.share * w.PortionsPerWeek / portionsPerKg,
			ValuePerKg: rule.value * w.Liking * portionsPerKg,
		})
	}
	return tiers
}

// Keep is the share of a store of k still good a week later.
func Keep(k crop.Keeping) float64 { return k.WeeklyKeep }

// Dishes gathers what the garden's table wants, in the order of its wants,
// leaving out what is not liked. It fails on a dish that none of crops makes.
func Dishes(g *garden.Garden, crops []*crop.Crop) ([]Dish, error) {
	var dishes []Dish
	for _, w := range g.Wants {
		if !(w.Liking > 0) || !(w.PortionsPerWeek > 0) {
			continue
		}
		d, err := dish(w, crops)
		if err != nil {
			return nil, fmt.Errorf("want %q: %w", w.Dish, err)
		}
		dishes = append(dishes, d)
	}
	return dishes, nil
}

func dish(w garden.Want, crops []*crop.Crop) (Dish, error) {
	d := Dish{Name: w.Dish, Want: w, PortionsWanted: w.PortionsPerWeek}
	for _, c := range crops {
		if c.Dish != w.Dish {
			continue
		}
		perKg, err := PortionsPerKg(c.Portion)
		if err != nil {
			return d, fmt.Errorf("%s: %w", c.Key, err)
		}
		d.Crops = append(d.Crops, c)
		d.PortionsPerKg += perKg
		d.Stored = d.Stored || c.Keeping.Stored
	}
	n := float64(len(d.Crops))
	if n == 0 {
		return d, errors.New("no crop makes this dish; take it off the list or correct its name")
	}
	d.PortionsPerKg /= n
	d.WeeklyKeep = dishKeep(d.Crops)
	d.Tiers = Tiers(w, d.PortionsPerKg)
	return d, nil
}

// dishKeep is one figure for a store of several crops: the mean of those that
// are kept for months, where there are any, else of all. A cook eats what
// spoils first and stores the keepers, so a store of potatoes is a store of
// maincrop. It is too kind to a glut of a quick spoiler of such a dish.
func dishKeep(crops []*crop.Crop) float64 {
	sum, n, storedOnly := 0.0, 0.0, slices.ContainsFunc(crops, func(c *crop.Crop) bool { return c.Keeping.Stored })
	for _, c := range crops {
		if c.Keeping.Stored || !storedOnly {
			sum += Keep(c.Keeping)
			n++
		}
	}
	return sum / n
}

// DefaultWants is a first list of wants for so many people: those of the
// usual dishes that are among dishes, or all when dishes is nil. A person
// changes it to taste.
func DefaultWants(dishes []string, people int) []garden.Want {
	known := map[string]bool{}
	for _, name := range dishes {
		known[name] = true
	}
	var wants []garden.Want
	for _, w := range tables().wants {
		if dishes == nil || known[w.dish] {
			wants = append(wants, garden.Want{Dish: w.dish, PortionsPerWeek: w.perPerson * float64(people), Liking: w.liking})
		}
	}
	return wants
}
