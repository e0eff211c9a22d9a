package season

import (
	"fmt"
	"math"

	"haulm/internal/ground"
	"haulm/internal/unit"
)

// clumps is in how many clumps the plants stand; 0 where each stands by itself.
func (p *Planting) clumps() int {
	return ground.Clumps(p.Place, ground.SpacingOf(p.Route), p.Plants)
}

// count is how many stand: "12 plants", "36 clumps of 5 plants".
func (p *Planting) count() string { return ground.CountWords(p.Plants, p.clumps()) }

// sowCount is how much seed is sown, into what and for what.
func (p *Planting) sowCount(seeds int) string {
	if clumps := p.clumps(); clumps > 0 && p.Route.Raised {
		return fmt.Sprintf("%d seeds, %s in each of %s, for %s (nine times in ten enough)",
			seeds, ground.EachWords(seeds, clumps), unit.Counted(clumps, "module", "modules"), p.count())
	}
	words := fmt.Sprintf("%d seeds for %s", seeds, p.count())
	if p.Route.Raised {
		words += fmt.Sprintf(" (nine times in ten enough), %s, room of %.0f cells", p.Route.Name, p.cells())
	}
	return words
}

// cells is the room that the plants take indoors.
func (p *Planting) cells() float64 {
	if clumps := p.clumps(); clumps > 0 {
		return float64(clumps)
	}
	return math.Ceil(float64(p.Plants) * p.Route.CellsPerPlant)
}

// seedToHand is the seed to have by one, by number and by weight, as packets
// tell it.
func (p *Planting) seedToHand(seeds int) string {
	words := fmt.Sprintf("%s of %s", unit.Counted(seeds, "seed", "seeds"), p.name())
	if perGram := p.Crop.Seed.PerGram; perGram > 0 {
		words += ", " + gramWords(float64(seeds)/perGram)
	}
	if clumps := p.clumps(); clumps > 0 && p.Route.Raised {
		words += ", " + ground.EachWords(seeds, clumps) + " to a module"
	}
	return words
}

func gramWords(grams float64) string {
	const fine = 10 // g up to which a tenth of a gram is told
	switch {
	case grams < leastSeedG:
		return "less than " + unit.Number(leastSeedG, 1) + " g"
	case grams < fine:
		return "about " + unit.Number(grams, 1) + " g"
	}
	return "about " + unit.Number(grams, 0) + " g"
}

// leastSeedG is less seed than a kitchen scale tells.
const leastSeedG = 0.1

// roomToHand is the room that raising takes indoors.
func (p *Planting) roomToHand() string {
	if clumps := p.clumps(); clumps > 0 {
		return fmt.Sprintf("room for %s indoors", unit.Counted(clumps, "module", "modules"))
	}
	return fmt.Sprintf("room for %.0f cells indoors", p.cells())
}
