package ground

import (
	"math"
	"strconv"

	"haulm/internal/crop"
	"haulm/internal/garden"
	"haulm/internal/unit"
)

// Several seeds of a multi-sown module come up and go out together, as one
// clump at one station. Seed, room and harvest go by the plants; what is sown,
// carried and set out is counted in clumps.

// clumped says whether so many plants a station stand in clumps.
func clumped(perStation float64) bool { return perStation > 1 }

// plantsIn is how many plants so many clumps have; where the book has three or
// four to the clump, half of the clumps have four.
func plantsIn(clumps int, perStation float64) int {
	return int(math.Round(float64(clumps) * perStation))
}

// Clumps is in how many clumps so many plants stand in a place; 0 where each
// stands by itself. A pot holds whole clumps: one at least, and a small pot
// a small one.
func Clumps(p garden.Place, s Spacing, plants int) int {
	if !clumped(s.PerStation) || plants < 1 {
		return 0
	}
	clumps := func(n int) int { return max(1, int(math.Round(float64(n)/s.PerStation))) }
	each := crop.PlantsPerPot(p.Litres, s.PotMinLitres)
	if p.Kind != garden.Pots || each < 1 {
		return clumps(plants)
	}
	return int(math.Ceil(float64(plants)/float64(each))) * clumps(each)
}

// CountWords tells how many plants a planting has, and in how many clumps:
// "12 plants", "36 clumps of 5 plants", "36 clumps of 3 or 4 plants".
func CountWords(plants, clumps int) string {
	if clumps < 1 {
		return unit.Counted(plants, "plant", "plants")
	}
	return unit.Counted(clumps, "clump", "clumps") + " of " + EachWords(plants, clumps) + " plants"
}

// ClumpWords is how many plants a route has to the clump: "5", "3 or 4".
func ClumpWords(r *crop.Route) string {
	const pair = 2 // of clumps, which halves come out even in
	return EachWords(plantsIn(pair, r.PerStation), pair)
}

// EachWords shares things out over clumps or modules: "5", or "5 or 6" where
// they do not come out even.
func EachWords(things, over int) string {
	if over < 1 {
		return ""
	}
	least := things / over
	if things%over == 0 {
		return strconv.Itoa(least)
	}
	return strconv.Itoa(least) + " or " + strconv.Itoa(least+1)
}
