package climatology

import (
	"fmt"
	"hash/fnv"
	"math"
	"sync"

	"haulm/internal/normals"
	"haulm/internal/weather"
)

// Estimate makes years of daily weather for a site, from 1 January of
// startYear on. The same place (to a hundredth of a degree and 10 m), years
// and start give the same days, whenever it is asked.
func (w *World) Estimate(site weather.Site, years, startYear int) *weather.Record {
	n, basis := w.Normals(site)
	rec := typicalYears(n, site, years, startYear, seed(site))
	rec.Source = fmt.Sprintf("estimated, not measured: %d years generated from %s", years, basis)
	return rec
}

// seed is the place's own.
func seed(site weather.Site) uint64 {
	h := fnv.New64a()
	round := func(x float64) int { return int(math.Round(x)) }
	fmt.Fprint(h, round(100*site.LatDeg), " ", round(100*site.LonDeg), " ", round(site.ElevM/10))
	return h.Sum64()
}

// draws is how many sets of years are drawn: a single set of 30 would move the
// middle frost date by some two days by luck alone.
const draws = 12

// typicalYears draws several sets and keeps the one whose frosts, rain and warmth
// come nearest to all of them together.
func typicalYears(n normals.Year, site weather.Site, years, startYear int, seed uint64) *weather.Record {
	generator := normals.NewGenerator(n, site)
	if years < 10 {
		return generator.Years(years, startYear, seed)
	}
	var sets [draws]*weather.Record
	var traits [draws]trait
	var drawing sync.WaitGroup
	for i := range sets {
		drawing.Go(func() {
			sets[i] = generator.Years(years, startYear, seed+uint64(i))
			traits[i] = traitOf(sets[i])
		})
	}
	drawing.Wait()
	var together trait
	for i := range traits {
		together.join(traits[i])
	}
	best := 0
	for i := range traits {
		if traits[i].from(&together) < traits[best].from(&together) {
			best = i
		}
	}
	return sets[best]
}
