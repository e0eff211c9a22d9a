package grow

import (
	"fmt"
	"math"

	"haulm/internal/crop"
)

// stage is where an outdoor plant stands between coming up and the end.
type stage int

const (
	young stage = iota
	growing
	flowering
	standing
	stages
)

var stageNames = [stages]string{"young", "growing", "flowering", "standing"}

// recipe is a crop, class, route and ground boiled down to the numbers that a
// course needs. Counts of days are whole days.
type recipe struct {
	raised     bool
	fromStart  bool // thermal time runs from planting, not from emergence
	fromSetOut bool // thermal time speaks of plants set out

	emerge     soilKey
	emergeCDay float64
	rotBelowC  float64

	indoorEmergeDays int
	raiseDays        int
	raiseMaxDays     int
	indoorCDay       float64 // heat gained by a day indoors
	seedlingCDay     float64 // heat from emergence until fit to set out
	creditCDay       float64 // the most of it that counts towards picking
	holdAboveC       float64 // mild enough nights to set out

	heat       heatKey
	targetCDay float64
	frost      [stages]frostKey
	regrows    bool
	lifts      bool // what it grows below lives when the tops are cut, and may be lifted
	setback    int

	gate gate
	bolt crop.Bolting
	warm crop.Heat

	chill    chillKey
	set      setKey
	pace     paceKey
	spanDays float64 // picking, in full growing days
	fairDays float64 // of them, at full yield
	maxDays  int     // picking, in calendar days
	small    bool    // worth taking before its full size
	every    float64 // days between pickings that keep it bearing; 0 = it does not mind
	neglect  float64 // share of the crop still borne, after the first flush, if it is picked half as often
	kept     float64 // … at the rate it is picked
	kgPerM2  float64
	cover    crop.Cover
	germ     crop.Germination
	doubt    Doubt
	thirst   thirst
	standing standingPlant
}

// newRecipe resolves what is to be grown and how.
func newRecipe(cr *crop.Crop, className string, route *crop.Route, ground Ground, longestDayH float64, rules crop.Constants) (recipe, error) {
	cover := ground.Cover
	class, ok := cr.Class(className)
	if !ok {
		return recipe{}, fmt.Errorf("%s has no %s kinds", cr.Name, className)
	}
	r := recipe{
		raised: route.Raised, cover: cover, germ: cr.Germination,
		fromStart: cr.Growth.From == crop.FromPlanting, fromSetOut: cr.Growth.From == crop.FromTransplant,
		emergeCDay: route.EmergeCDay, targetCDay: class.ToFirstPickCDay,
		gate: newGate(cr.DayLength, longestDayH, rules.BulbMarginH), bolt: cr.Bolting, warm: cr.Heat, kgPerM2: cr.Yield.TypicalKgM2,
	}
	r.doubt = Doubt{
		EmergenceLog: route.EmergeLogSD,
		GrowthLog:    math.Hypot(class.LogSD, rules.SiteLogSD),
	}
	r.emerge = soilKey{route.EmergeBaseC, emergenceCap(cr), cover.Key}
	r.rotBelowC = math.Min(cr.Germination.MinSoilC, route.EmergeBaseC+rules.RotMarginC)
	if route.Vegetative {
		r.rotBelowC = math.Inf(-1)
	}
	r.setCold(cr)
	r.setRaising(cr, route, rules)
	r.setPicking(cr, rules)
	r.lifts = r.regrows && !cr.Perennial
	r.standing = newStanding(cr, class)
	r.thirst = newThirst(cr, route, ground, rules)
	if ground.potted() {
		r.setPot(ground.Pot, route, rules)
	}
	return r, nil
}

// setPot is what a pot does beside drying out: it bears less than open ground,
// its roots are hotter in heat and colder in winter.
func (r *recipe) setPot(pot Pot, route *crop.Route, rules crop.Constants) {
	r.kgPerM2 *= PotShare(pot.litresEach(), route.PotMinLitres, rules)
	r.heat.rootsC = rules.PotHotC
	r.pace.heat = r.heat
	for s := range r.frost {
		r.frost[s].winterKillC += rules.PotWinterC
	}
}

// emergenceCap is the soil temperature above which seed comes up no faster.
func emergenceCap(cr *crop.Crop) float64 {
	if cr.Germination.OptHighC > 0 {
		return cr.Germination.OptHighC
	}
	return cr.Growth.PlateauC
}

// setCold fills the frost thresholds; a stage the catalogue does not name
// stands what the stage before it stands.
func (r *recipe) setCold(cr *crop.Crop) {
	byStage := map[string]crop.Hardiness{}
	for _, h := range cr.Hardiness {
		byStage[h.Stage] = h
	}
	r.heat = heatKey{baseC: cr.Growth.BaseC, plateauC: cr.Growth.PlateauC, hotC: cr.Growth.HotC, damageC: math.Inf(-1), cover: r.cover.Key}
	last, found := crop.Hardiness{KillC: math.Inf(-1), DamageC: math.Inf(-1)}, false
	if len(cr.Hardiness) > 0 {
		last = cr.Hardiness[0]
	}
	winter, winters := byStage["wintering"]
	for s := range stages {
		if h, ok := byStage[stageNames[s]]; ok {
			last, found = h, true
		}
		key := frostKey{last.KillC, last.KillC, r.cover.Key}
		if winters {
			key.winterKillC = winter.KillC
		}
		r.frost[s] = key
		if s == growing || !found {
			r.heat.damageC = last.DamageC
		}
		if last.Regrows {
			r.regrows, r.setback = true, int(last.SetbackD)
		}
	}
}

// setRaising fills the indoor weeks.
func (r *recipe) setRaising(cr *crop.Crop, route *crop.Route, rules crop.Constants) {
	raising := route
	if !route.Raised {
		raising = cr.RaisedRoute()
	}
	if raising == nil {
		return
	}
	weeks := (raising.RaiseWeeksMin + raising.RaiseWeeksMax) / 2
	r.raiseDays = int(math.Round(weeks * 7))
	r.raiseMaxDays = int(math.Round(raising.RaiseWeeksMax*7)) + int(rules.HoldDays)
	r.indoorEmergeDays = daysAt(raising.RaiseC, raising.EmergeBaseC, raising.EmergeCDay)
	r.indoorCDay = rules.TrayShare * math.Max(0, math.Min(raising.RaiseC, cr.Growth.PlateauC)-cr.Growth.BaseC)
	r.seedlingCDay = r.indoorCDay * math.Max(0, float64(r.raiseDays-r.indoorEmergeDays))
	r.creditCDay = rules.RaisedCreditShare * r.targetCDay
	r.holdAboveC = math.Max(r.frost[young].killC+rules.SetOutMarginC, r.heat.damageC+1)
}

func daysAt(tempC, baseC, cDay float64) int {
	if tempC <= baseC {
		return 0
	}
	return int(math.Ceil(cDay / (tempC - baseC)))
}

// setPicking fills the harvest. What is taken once waits in the ground at the
// same pace whatever the weather; what keeps growing is picked as it grows.
func (r *recipe) setPicking(cr *crop.Crop, rules crop.Constants) {
	share := 0.0
	switch {
	case cr.Picking.Pattern == crop.PickedOnce:
		share = 1
	case cr.Picking.Stands:
		share = rules.StandingPickShare
	}
	r.pace = paceKey{r.heat, share}
	r.small = cr.Picking.Small
	r.kept = 1
	if cr.Picking.NeglectedShare > 0 {
		r.every, r.neglect = cr.Picking.EveryDays, cr.Picking.NeglectedShare
	}
	r.fairDays, r.spanDays = cr.Picking.Days, cr.Picking.Days
	if cr.Picking.Pattern == crop.CutAndComeAgain {
		r.spanDays = math.Max(cr.Picking.Days, cr.Picking.DaysMax)
	}
	r.maxDays = int(math.Max(cr.Picking.Days, cr.Picking.DaysMax) * rules.PickingCapShare)
	r.chill = chillKey{cr.Bolting.ChillMinC, cr.Bolting.ChillMaxC, cr.Bolting.ResetC, r.cover.Key}
	r.set = setKey{cr.Heat.SetStopsMaxC, cr.Heat.SetStopsMinC, r.cover.Key}
}

// share is the part of the whole yield taken once the picking has moved on by
// units full growing days: even at first, and slower once the plants are old.
func (r *recipe) share(units, lateShare float64) float64 {
	if units <= r.fairDays {
		return units / r.fairDays
	}
	return 1 + lateShare*(units-r.fairDays)/r.fairDays
}
