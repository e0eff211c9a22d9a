package ground

import (
	_ "embed"
	"math"
	"sync"

	"haulm/internal/crop"
	"haulm/internal/graded"
)

//go:embed data/seeds.csv
var seedsCSV string

// seedFigures are those of data/seeds.csv by name.
var seedFigures = sync.OnceValue(func() graded.Figures { return graded.MustRead("ground: seeds", seedsCSV) })

// Seeds is how many to sow by a route for the plants wanted, sure enough: fresh
// seed of the crop's best germination, and outdoors only the share of it that
// comes up. It is 0 for sets, tubers and cloves.
func Seeds(c *crop.Crop, route *crop.Route, plants int, fieldShare float64) int {
	if route.Vegetative {
		return 0
	}
	is := seedFigures()
	sprouts := is.Value("seed.least_germination_share")
	for _, percent := range c.Germination.PercentAt {
		sprouts = math.Max(sprouts, percent/100)
	}
	sprouts = math.Min(sprouts, is.Value("seed.most_germination_share"))
	if !route.Raised {
		sprouts *= fieldShare
	}
	return SeedsFor(plants, sprouts, is.Value("seed.sureness_share"))
}

// SeedsFor is the least number of seeds of which at least plants come up with
// the wanted sureness, when each comes up with chance sprouts on its own:
// binomial, not plants divided by sprouts, which leaves one short every second
// time. It is 0 for no plants, and for a chance or sureness outside 0 to 1
// (sureness below 1).
func SeedsFor(plants int, sprouts, sureness float64) int {
	if plants < 1 || !(sprouts > 0 && sprouts <= 1) || !(sureness > 0 && sureness < 1) {
		return 0
	}
	seeds := plants
	if sureness > 0.5 {
		// The median of so many seeds is at most plants-1: too few to be that sure.
		seeds = max(plants, int(float64(plants-1)/sprouts))
	}
	for AtLeast(plants, seeds, sprouts) < sureness {
		seeds++
	}
	return seeds
}

// AtLeast is the chance that at least plants of so many seeds come up.
func AtLeast(plants, seeds int, sprouts float64) float64 {
	if plants <= 0 {
		return 1
	}
	if plants > seeds || sprouts <= 0 {
		return 0
	}
	if sprouts >= 1 {
		return 1
	}
	chance := 0.0
	for up := plants; up <= seeds; up++ {
		chance += math.Exp(logChoose(seeds, up) + float64(up)*math.Log(sprouts) + float64(seeds-up)*math.Log1p(-sprouts))
	}
	return math.Min(1, chance)
}

// logChoose is the logarithm of the number of ways to choose k of n.
func logChoose(n, k int) float64 {
	a, _ := math.Lgamma(float64(n + 1))
	b, _ := math.Lgamma(float64(k + 1))
	c, _ := math.Lgamma(float64(n - k + 1))
	return a - b - c
}
