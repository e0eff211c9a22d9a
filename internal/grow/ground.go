package grow

import (
	"math"

	"haulm/internal/crop"
	"haulm/internal/soil"
)

// Ground is what a planting stands in, as far as its growth minds. The zero
// Ground but for an open Cover is watered ground.
type Ground struct {
	Cover   crop.Cover
	RainFed bool         // nobody waters it
	Soil    soil.Texture // the zero value is the usual one; pots hold a mix
	Pot     Pot          // the zero value is open ground
}

// Pot is one pot and how many plants share it.
type Pot struct {
	Litres float64
	Plants float64
}

// PotOf is a pot with as many plants as it has room for by a route; 0 of them
// where the crop is not for pots or the pot is too small.
func PotOf(litres float64, route *crop.Route) Pot {
	return Pot{Litres: litres, Plants: float64(crop.PlantsPerPot(litres, route.PotMinLitres))}
}

// potted says whether the planting stands in a pot.
func (g Ground) potted() bool { return g.Pot.Litres > 0 }

// litresEach is a plant's share of its pot.
func (p Pot) litresEach() float64 { return p.Litres / math.Max(1, p.Plants) }

// texture is the ground's, the usual one where nobody has said.
func (g Ground) texture() soil.Texture {
	if g.Soil.Name != "" {
		return g.Soil
	}
	usual, _ := soil.TextureOf("")
	return usual
}

// PotShare is the share of its yield in the ground that a plant bears in a pot
// of so many litres to itself: some share from the least pot it is grown in,
// more by a set ratio for every doubling, and never more than in the ground.
func PotShare(litresEach, leastLitres float64, rules crop.Constants) float64 {
	if leastLitres <= 0 {
		return 1
	}
	doublings := math.Log2(litresEach / leastLitres)
	return math.Min(1, rules.PotLeastYield*math.Pow(rules.PotDoubledYield, doublings))
}
