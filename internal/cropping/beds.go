package cropping

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/garden"
	"haulm/internal/ground"
	"haulm/internal/plan"
)

// kind is a sort of place: what grows there grows alike.
type kind struct {
	cover    crop.Cover
	litres   float64 // of each pot; 0 = ground
	locked   string  // dishes locked out of such a place, as one text
	acrossCM float64 // its width: a row takes more strips of a wide bed than of a narrow one
	rainFed  bool    // nobody waters it
	texture  string  // of rain-fed ground; "" where it does not matter
}

// mostKinds is how many kinds are told apart by their width too. The planner
// has room for 31 of them.
const mostKinds = 16

// bed is one place as the planner sees it: a row of strips of equal area, or
// of pots.
type bed struct {
	place   garden.Place
	numbers plan.Bed
}

// layBeds cuts the places into strips.
func (l *Lay) layBeds() error {
	for _, place := range l.question.Garden.Places {
		b := bed{place: place}
		var err error
		if b.numbers.Kind, err = l.kindOf(place); err != nil {
			return err
		}
		b.numbers.SunHours = place.SunHours
		b.numbers.Len = ground.Strips(place)
		if b.numbers.Ban, err = l.bans(b); err != nil {
			return err
		}
		l.beds = append(l.beds, b)
	}
	return nil
}

// kindOf is the index of the place's kind, found or added.
func (l *Lay) kindOf(place garden.Place) (int, error) {
	cover, err := l.question.Catalogue.Cover(place.Cover)
	if err != nil {
		return 0, fmt.Errorf("%s: %w", place.Name, err)
	}
	want := kind{cover: cover, locked: lockedDishes(l.question.Garden, place.Name), acrossCM: ground.AcrossCM(place)}
	if place.Kind == garden.Pots {
		want.litres = place.Litres
	}
	want.rainFed = place.RainFed
	if want.rainFed && want.litres == 0 {
		want.texture = l.question.Garden.SoilAt(place)
	}
	for i, k := range l.kinds {
		alike := k.acrossCM == want.acrossCM || len(l.kinds) >= mostKinds
		if alike && k.cover.Key == want.cover.Key && k.litres == want.litres && k.locked == want.locked && k.rainFed == want.rainFed && k.texture == want.texture {
			return i, nil
		}
	}
	l.kinds = append(l.kinds, want)
	return len(l.kinds) - 1, nil
}

// lockedDishes are the dishes that a person keeps out of a place.
func lockedDishes(g *garden.Garden, place string) string {
	var dishes []string
	for _, lock := range g.Locks {
		if lock.Place == place {
			dishes = append(dishes, lock.Dish)
		}
	}
	slices.Sort(dishes)
	return "\n" + strings.Join(dishes, "\n") + "\n"
}

// locks says whether a dish is kept out of this kind of place.
func (k kind) locks(dish string) bool { return strings.Contains(k.locked, "\n"+dish+"\n") }

// layStore adds what lies in store as a bed on which nothing can grow: one
// strip a dish, all of it picked in the first week.
func (l *Lay) layStore(p *plan.Problem) {
	store := plan.Bed{Kind: storeKind}
	for _, s := range l.question.Garden.InStore {
		dish, eaten := l.dishIndex[s.Dish]
		if !eaten {
			continue
		}
		grams := []int32{int32(math.Round(s.Kg * 1000))}
		standing := plan.Standing{Crop: dish, Strip: store.Len, Strips: 1, End: 1, Yield: make([]plan.Yield, len(l.years))}
		for y := range standing.Yield {
			standing.Yield[y] = plan.Yield{Grams: grams}
		}
		store.Standing = append(store.Standing, standing)
		store.Ban = append(store.Ban, math.MaxUint16)
		store.Len++
	}
	if store.Len > 0 {
		p.Beds = append(p.Beds, store)
	}
}

// storeKind is a kind of place that no choice may use.
const storeKind = 31

// bans is what rotation forbids on each strip of a bed, as bits of groups.
func (l *Lay) bans(b bed) ([]uint32, error) {
	bans := make([]uint32, b.numbers.Len)
	if b.place.Kind == garden.Pots {
		return bans, nil // fresh compost each year
	}
	season := calendar.SeasonYear(l.from, l.question.Climate.South())
	past, err := ground.Bans(l.question.Garden, b.place.Name, l.question.Catalogue.Crop, season)
	if err != nil {
		return nil, err
	}
	for strip := range bans {
		for _, ban := range past[strip] {
			bans[strip] |= 1 << l.groups.bit(ban.Group)
		}
	}
	return bans, nil
}

// fromCM is where a strip begins along the place.
func (b bed) fromCM(strip int) int { return ground.StripCM(b.place, strip) }

// groups numbers the rotation groups for the planner's bit masks.
type groups map[string]int

func newGroups() groups { return groups{} }

// bit is the group's number, 0 to 15; the catalogue has fewer groups than
// that, and any beyond share the last.
func (g groups) bit(name string) int {
	if n, ok := g[name]; ok {
		return n
	}
	g[name] = min(len(g), 15)
	return g[name]
}
