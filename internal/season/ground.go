package season

import (
	"fmt"

	"haulm/internal/garden"
	"haulm/internal/grow"
	"haulm/internal/soil"
)

// ground is what a planting stands in: covered, watered or not, in a pot.
func (g *grower) ground(p *Planting) (grow.Ground, error) {
	cover, err := g.in.Catalogue.Cover(p.Place.Cover)
	if err != nil {
		return grow.Ground{}, err
	}
	out := grow.Ground{Cover: cover, RainFed: p.Place.RainFed}
	if p.Place.Kind == garden.Pots {
		out.Pot = grow.PotOf(p.Place.Litres, p.Route)
		return out, nil
	}
	out.Soil, _ = soil.TextureOf(g.in.Garden.SoilAt(p.Place)) // the garden's check knows the textures
	return out, nil
}

// groundKey tells apart the places that a crop grows differently in.
func (g *grower) groundKey(p garden.Place) string {
	return fmt.Sprint(p.Cover, p.RainFed, p.Litres, g.in.Garden.SoilAt(p))
}
