package web

import (
	"math"

	"haulm/internal/cropping"
	"haulm/internal/ground"
)

// countWords is how many plants a planting has, and in how many clumps.
func countWords(p *cropping.Planting) string {
	return ground.CountWords(p.Layout.Plants, p.Layout.Clumps)
}

// sowWords is how much seed is sown under cover; of multi-sown modules, how
// much in each.
func sowWords(p *cropping.Planting) string {
	seeds := counted(p.Seeds, "seed", "seeds")
	if p.Layout.Clumps == 0 {
		return seeds
	}
	return seeds + ", " + ground.EachWords(p.Seeds, p.Layout.Clumps) + " in each of " + counted(p.Layout.Clumps, "module", "modules") + ","
}

// cellsOf is the room that raising a planting takes in trays.
func cellsOf(p *cropping.Planting) int {
	if p.Layout.Clumps > 0 {
		return p.Layout.Clumps
	}
	return int(math.Ceil(float64(p.Layout.Plants) * p.Route.CellsPerPlant))
}
