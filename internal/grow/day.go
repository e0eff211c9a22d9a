package grow

import (
	"math"

	"haulm/internal/crop"
	"haulm/internal/heat"
)

// What one day of weather means to a plant. Both the fast courses and their
// day-by-day twin are built from these rules, so that a rule stands once.

// heatOn is the day's thermal time (°C-day) for growth: mean air temperature
// above the base, capped at the plateau, fading out in heat, braked by weak
// light, and nothing at all after a night that checks the plant.
func (c *Climate) heatOn(i int, key heatKey, cover crop.Cover) float64 {
	if c.minC[i]+cover.MinC <= key.damageC {
		return 0
	}
	mean := c.meanC[i] + cover.MeanC
	warmth := heat.MeanInBand(mean, key.baseC, key.plateauC)
	if over := mean + key.rootsC - key.hotC; over > 0 {
		warmth *= math.Max(0, 1-over/c.rules.TooHotAboveC)
	}
	return warmth * c.lightOn(i, cover)
}

// lightOn is how far the day's light lets growth go, 0 to 1.
func (c *Climate) lightOn(i int, cover crop.Cover) float64 {
	return c.lightShare(i, c.rules.LightFullMJ, cover)
}

// lightShare is how far the day's light goes from that in which nothing grows
// to fullMJ, 0 to 1.
func (c *Climate) lightShare(i int, fullMJ float64, cover crop.Cover) float64 {
	none := c.rules.LightNoneMJ
	return clamp((c.lightM[i]*cover.LightShare-none)/(fullMJ-none), 1)
}

// soilUnder is the soil temperature at sowing depth under a cover.
func (c *Climate) soilUnder(i int, cover crop.Cover) float64 { return c.soilC[i] + cover.MeanC }

// soilHeatOn is the day's thermal time (°C-day) for emergence.
func (c *Climate) soilHeatOn(i int, key soilKey, cover crop.Cover) float64 {
	return heat.MeanInBand(c.soilUnder(i, cover), key.baseC, key.capC)
}

// kills says whether the night kills. In the short days of winter a plant is
// hardened, and stands what its wintering stage stands.
func (c *Climate) kills(i int, key frostKey, cover crop.Cover) bool {
	limit := key.killC
	if c.winterDay(i) {
		limit = math.Min(limit, key.winterKillC)
	}
	return c.minC[i]+cover.MinC <= limit
}

// winterDay says whether the day is short enough for plants to be hardened.
func (c *Climate) winterDay(i int) bool { return c.dayH[i] < c.rules.HardenedBelowH }

// paceOn is the share of a full growing day by which a picking season moves
// on: the day's heat against that of a fair growing day, and never less than
// the share at which a standing crop is picked in its winter rest.
func (c *Climate) paceOn(i int, key paceKey, cover crop.Cover) float64 {
	return key.standing + (1-key.standing)*clamp(c.heatOn(i, key.heat, cover)/c.fairHeat(key.heat), 1)
}

// fairHeat is the thermal time (°C-day) of a fair growing day.
func (c *Climate) fairHeat(key heatKey) float64 {
	return math.Min(key.plateauC, c.rules.FairDayC) - key.baseC
}

// chillOn is +1 for a day of chill, -1 for one that undoes it, else 0.
func (c *Climate) chillOn(i int, key chillKey, cover crop.Cover) int8 {
	mean := c.meanC[i] + cover.MeanC
	switch {
	case mean >= key.minC && mean <= key.maxC:
		return 1
	case key.resetC > 0 && mean > key.resetC:
		return -1
	}
	return 0
}

// coolOn says whether the day is cold enough to count as winter rest.
func (c *Climate) coolOn(i int, belowC float64, cover crop.Cover) bool {
	return c.meanC[i]+cover.MeanC < belowC
}

// setOn is the share of the flowers of a day that set fruit: none in great heat
// or after a cold night, and as many as the light feeds.
func (c *Climate) setOn(i int, key setKey, cover crop.Cover) float64 {
	if key.maxC > 0 && c.maxC[i]+cover.MaxC > key.maxC {
		return 0
	}
	if key.minC > 0 && c.minC[i]+cover.MinC < key.minC {
		return 0
	}
	return c.fruitLightOn(i, cover)
}

// whyNoSet names what keeps flowers from setting about a day on which they
// hardly do.
func (c *Climate) whyNoSet(i int, key setKey, cover crop.Cover) MishapKind {
	switch {
	case key.maxC > 0 && c.maxC[i]+cover.MaxC > key.maxC:
		return HeatStopped
	case c.fruitLightOn(i, cover) < darkShare:
		return TooDark
	case key.minC > 0:
		return ColdStopped
	}
	return HeatStopped
}

// darkShare of the light that fruit wants is called dark.
const darkShare = 0.5

// fruitLightOn is how far the day's light feeds all the fruit a crop can set.
func (c *Climate) fruitLightOn(i int, cover crop.Cover) float64 {
	return c.lightShare(i, c.rules.LightFruitMJ, cover)
}

// clamp holds x between 0 and high.
func clamp(x, high float64) float64 { return max(0, min(high, x)) }

// failsInHeat says whether seed lying at soilC comes up too thinly because it
// is too warm: by the measured shares where there are any, else by the limit.
func failsInHeat(percentAt []float64, optHighC, maxSoilC, soilC, leastShare float64) bool {
	if len(percentAt) < 2 {
		return maxSoilC > 0 && soilC > maxSoilC
	}
	best := 0.0
	for _, percent := range percentAt {
		best = math.Max(best, percent)
	}
	return soilC > optHighC && germinationPercent(percentAt, soilC) < leastShare*best
}

// germinationPercent reads the 5-degree table at soilC, straight between its
// points.
func germinationPercent(percentAt []float64, soilC float64) float64 {
	position := clamp(soilC/5, float64(len(percentAt)-1))
	i := min(int(position), len(percentAt)-2)
	part := position - float64(i)
	return percentAt[i]*(1-part) + percentAt[i+1]*part
}

// nightsMild says whether the nights before day i were mild on the mean.
func (c *Climate) nightsMild(i int, aboveC float64, cover crop.Cover) bool {
	from := max(0, i-mildNightsDays)
	if from == i {
		return false
	}
	total := 0.0
	for d := from; d < i; d++ {
		total += c.minC[d] + cover.MinC
	}
	return total/float64(i-from) >= aboveC
}

// lastingHeat says whether at least so many of the days before day i, in a
// spell of a set multiple of their number, were hotter than meanC on the mean.
// Heat that comes and goes over a summer does not make leaf crops run up; heat
// that lasts does.
func (c *Climate) lastingHeat(i int, meanC float64, days int, cover crop.Cover) bool {
	hot := 0
	for d := max(0, i-c.hotSpellDays(days)); d < i; d++ {
		if c.meanC[d]+cover.MeanC > meanC {
			hot++
		}
	}
	return hot >= days
}

// hotSpellDays is the length of the spell in which so many days must be hot. Only
// a spell that lies wholly after a plant's youth makes it run up: what was hot
// before it was set out, or while it was a seedling, does not (calabrese and
// cauliflower feel heat when they form their heads: TAN2000, WURR).
func (c *Climate) hotSpellDays(days int) int { return int(c.rules.HotSpellRatio * float64(days)) }

// mildNightsDays is how many nights a gardener looks back on (common
// practice: a mild week).
const mildNightsDays = 7
