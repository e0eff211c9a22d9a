package app

import (
	"fmt"
	"strings"

	"haulm/internal/crop"
	"haulm/internal/grow"
	"haulm/internal/soil"
)

// ground is what the crop asked for stands in.
func (q GrowQuestion) ground(cr *crop.Crop, route *crop.Route, cover crop.Cover) (grow.Ground, error) {
	out := grow.Ground{Cover: cover, RainFed: q.RainFed}
	texture, ok := soil.TextureOf(q.Soil)
	switch {
	case !ok:
		return out, fmt.Errorf("soil %q is not known; use one of: %s", q.Soil, strings.Join(soil.TextureNames(), ", "))
	case q.PickEvery < 0:
		return out, fmt.Errorf("days between pickings cannot be %g: give 1 or more", q.PickEvery)
	case q.PotLitres < 0:
		return out, fmt.Errorf("a pot cannot hold %g litres", q.PotLitres)
	case q.PotLitres == 0:
		out.Soil = texture
		return out, nil
	case route.PotMinLitres <= 0:
		return out, fmt.Errorf("%s, %s, is not for pots", cr.Name, route.Name)
	}
	if out.Pot = grow.PotOf(q.PotLitres, route); out.Pot.Plants < 1 {
		return out, fmt.Errorf("%s wants a pot of %g litres at least", cr.Name, route.PotMinLitres)
	}
	return out, nil
}

// groundWords says what the crop stands in and how it is kept, where that is not
// as usual.
func (q GrowQuestion) groundWords() string {
	var words []string
	if q.PotLitres > 0 {
		words = append(words, fmt.Sprintf("in a pot of %g litres", q.PotLitres))
	}
	if q.RainFed {
		words = append(words, "with rain only")
		if q.Soil != "" && q.PotLitres == 0 {
			words = append(words, "on "+q.Soil)
		}
	}
	if q.PickEvery > 0 {
		words = append(words, fmt.Sprintf("picked every %g days", q.PickEvery))
	}
	if q.Standing {
		words = append(words, "old plants")
	}
	return strings.Join(words, ", ")
}
