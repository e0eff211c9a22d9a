package grow

import (
	"math"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/soil"
)

// What water means to a planting: the numbers of its roots, and the rules of a
// single day. It is FAO-56's daily balance by the single crop coefficient, its
// stages laid over the planting's own. Pots are a small store of mix that gives
// up its water freely until it is gone.

// thirst is a crop, its ground and its leaf boiled down to the numbers of its
// water.
type thirst struct {
	rainFed bool
	potted  bool

	kcIni, kcMid, kcEnd    float64
	depletion              float64 // p as tabled
	seedlingMM, fullMM     float64 // TAW when young and when grown; of pots over the leaf at full growth
	rainShare              float64 // of the rain outside, what reaches the roots
	initialShare, fullFrom float64 // of the way to first picking
	ky, kyCritical         float64
	criticalFrom           float64
	flowers                bool // its critical stage is flower and fruit
	once                   bool // taken once: what falls after it is ripe does not matter
}

// newThirst resolves the water of a planting.
func newThirst(cr *crop.Crop, route *crop.Route, ground Ground, rules crop.Constants) thirst {
	w := &cr.Water
	t := thirst{
		rainFed: ground.RainFed, potted: ground.potted(), kcIni: w.KcIni, kcMid: w.KcMid, kcEnd: w.KcEnd,
		depletion: w.Depletion, rainShare: ground.Cover.RainShare,
		initialShare: rules.WaterInitialShare, fullFrom: rules.WaterFullShare,
		ky: w.Ky, kyCritical: w.CriticalKy, criticalFrom: w.CriticalFromShare,
		flowers: flowerStage(w.CriticalStage), once: cr.Picking.Pattern == crop.PickedOnce,
	}
	if t.kyCritical == 0 {
		t.kyCritical = t.ky
	}
	if t.potted {
		leafM2 := 1 / route.PlantsPerM2
		litres := soil.PotWaterLitres(ground.Pot.litresEach(), rules.PotCapacity, rules.PotUnavailable)
		t.fullMM, t.depletion = litres/leafM2, 1
		t.seedlingMM = t.fullMM
		t.rainShare *= soil.PotMouthM2(ground.Pot.Litres) / math.Max(1, ground.Pot.Plants) / leafM2
		return t
	}
	rootM := (w.RootMinM + w.RootMaxM) / 2 // table 22: the less for watered crops, the more for rain-fed
	texture := ground.texture()
	t.fullMM = texture.TotalMM(rootM)
	t.seedlingMM = math.Min(t.fullMM, texture.TotalMM(rules.SeedlingRootM))
	return t
}

// flowerStage says whether drought at a crop's critical stage drops flowers and
// pods, by the catalogue's words for it.
func flowerStage(words string) bool {
	for _, word := range []string{"flower", "pod", "tassel"} {
		if strings.Contains(words, word) {
			return true
		}
	}
	return false
}

// timing is a planting's life in days of water: from the first day out to the
// first picking and to the end of the picking.
type timing struct{ outside, first, end int }

// phase is a stretch of that life over which the crop coefficient and the water
// in reach of the roots run straight: from + slope for each day since outside.
type phase struct {
	until           int // first day after it
	kc, kcSlope     float64
	total, totSlope float64 // TAW, mm
}

func (p *phase) on(x float64) (kc, totalMM float64) {
	return p.kc + p.kcSlope*x, p.total + p.totSlope*x
}

// phases are the stages of FAO-56 laid over a planting's life: young, closing,
// full-grown, and going over while it is picked. Pots are kept from the weather
// but for what their leaf draws, and that grows with the leaf.
func (t *thirst) phases(g timing) [4]phase {
	way := math.Max(1, float64(g.first-g.outside))
	picking := math.Max(1, float64(g.end-g.first))
	young, full := t.initialShare*way, t.fullFrom*way
	ini, roots := t.kcIni, (t.fullMM-t.seedlingMM)/full
	if t.potted {
		ini = t.kcMid * t.initialShare / t.fullFrom
	}
	closing, over := (t.kcMid-ini)/(full-young), (t.kcEnd-t.kcMid)/picking
	return [4]phase{
		{g.outside + int(young) + 1, ini, 0, t.seedlingMM, roots},
		{g.outside + int(full) + 1, ini - closing*young, closing, t.seedlingMM, roots},
		{g.first + 1, t.kcMid, 0, t.fullMM, 0},
		{math.MaxInt, t.kcMid - over*way, over, t.fullMM, 0},
	}
}

// drink carries the roots through a day, from how dry they begin it, mm below
// full: what the crop drew, what it would have drawn from full ground, and how
// dry it ends.
func (t *thirst) drink(dryMM, kc, totalMM, referenceMM, rainMM float64) (drawn, wanted, ends float64) {
	wanted = kc * referenceMM
	ready := totalMM
	if !t.potted {
		ready = soil.ReadyWaterMM(soil.DepletionShare(t.depletion, wanted), totalMM)
	}
	drawn = wanted
	if dryMM > ready {
		drawn *= soil.Stress(dryMM, totalMM, ready)
	}
	drawn = min(drawn, totalMM-dryMM)
	return drawn, wanted, max(0, dryMM+drawn-rainMM)
}

// droughtShare is the share of the crop left by a shortfall over its life and
// over the stage that minds most: FAO-33's two ways, the worse of them.
func (t *thirst) droughtShare(missed, wanted, criticalMissed, criticalWanted float64) float64 {
	return math.Min(soil.RelativeYield(t.ky, wanted-missed, wanted),
		soil.RelativeYield(t.kyCritical, criticalWanted-criticalMissed, criticalWanted))
}

// air is what the weather gives and takes under a cover, mm by day, and how dry
// bare ground lies on the morning of each.
type air struct {
	referenceMM, rainMM, fallowMM []float64
	sum, dated                    sums    // of ETo, and of ETo times its day's index
	mostMM                        float64 // of ETo on any day
}

// bareKc is what wet bare ground evaporates against ETo: the upper limit of
// FAO-56 eq 72 at its standard wind and humidity.
var bareKc = soil.KcMost(0, 2, 45, 0)

// fallowOn is how dry bare ground is after a day: the sun dries no more than
// its top layer.
func fallowOn(dryMM, referenceMM, rainMM float64, top soil.Surface) float64 {
	lost := bareKc * soil.EvaporationReduction(dryMM, top) * referenceMM
	return clamp(dryMM+lost-rainMM, top.EvaporableMM)
}

// airFor is the water of the record under a cover on a texture; made once.
func (c *Climate) airFor(ground Ground) air {
	texture := ground.texture()
	return cached(&c.tables.mu, c.tables.air, airKey{texture.Name, ground.Cover.Key}, func() air {
		reference, rain := c.water()
		a := air{referenceMM: make([]float64, len(rain)), rainMM: make([]float64, len(rain)), fallowMM: make([]float64, len(rain)+1)}
		top := texture.Surface(c.rules.SurfaceLayerM)
		for i := range rain {
			a.referenceMM[i] = reference[i] * ground.Cover.LightShare
			a.mostMM = max(a.mostMM, a.referenceMM[i])
			a.rainMM[i] = soil.EffectiveRainMM(rain[i], a.referenceMM[i])
			a.fallowMM[i+1] = fallowOn(a.fallowMM[i], a.referenceMM[i], a.rainMM[i]*ground.Cover.RainShare, top)
		}
		a.sum = sumOf(len(rain), func(i int) float64 { return a.referenceMM[i] })
		a.dated = sumOf(len(rain), func(i int) float64 { return float64(i) * a.referenceMM[i] })
		return a
	})
}

// Watering is what a watered pot asks for in one week.
type Watering struct {
	Monday calendar.Date
	Times  int
	MM     float64 // over the leaf at full growth: times a plant's square metres, litres
}

// PotWaterings tells how often a watered pot is watered in a course, week by
// week: filled whenever it has been used to the point at which a gardener
// waters it. It is empty for open ground and for courses that gave nothing.
func (t *Track) PotWaterings(c *Course) []Watering {
	if !t.recipe.thirst.potted || t.recipe.thirst.rainFed || c.Failed() {
		return nil
	}
	outside, first, end := c.outside(), int(c.FirstPick-t.climate.start), t.days()
	if c.Clear.Known() {
		end = int(c.Clear - t.climate.start)
	}
	w, from := &t.recipe.thirst, int(outside-t.climate.start)
	phases, now := w.phases(timing{from, first, end}), 0
	var weeks []Watering
	dry := 0.0
	for day := from; day < end; day++ {
		for day >= phases[now].until {
			now++
		}
		kc, _ := phases[now].on(float64(day - from))
		date := t.climate.date(day)
		if monday := date.Monday(); len(weeks) == 0 || weeks[len(weeks)-1].Monday != monday {
			weeks = append(weeks, Watering{Monday: monday})
		}
		if dry > t.climate.rules.PotUseShare*w.fullMM || dry > 0 && w.fullMM-dry < kc*t.air.referenceMM[day] {
			week := &weeks[len(weeks)-1]
			week.Times++
			week.MM += dry
			dry = 0
		}
		_, _, dry = w.drink(dry, kc, w.fullMM, t.air.referenceMM[day], t.air.rainMM[day]*w.rainShare)
	}
	return weeks
}

// outside is the day from which the weather had the plant.
func (c *Course) outside() calendar.Date {
	if c.SetOut.Known() {
		return c.SetOut
	}
	return c.Emergence
}
