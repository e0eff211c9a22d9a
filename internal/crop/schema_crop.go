package crop

import (
	"fmt"
	"math"
)

// factTable is one table of crop facts.
type factTable struct {
	file  string
	rules []rule[Crop]
}

var factTables = []factTable{
	{"site.csv", siteRules}, {"growth.csv", growthRules}, {"germination.csv", germinationRules()},
	{"cold.csv", coldRules()}, {"bolting.csv", boltingRules}, {"heat_daylength.csv", heatRules},
	{"yield.csv", yieldRules}, {"water.csv", waterRules}, {"keeping.csv", keepingRules},
	{"portion.csv", portionRules}, {"labour.csv", labourRules},
}

var siteRules = []rule[Crop]{
	figure("site.height_m", 0.05, 4, func(c *Crop) *float64 { return &c.HeightM }),
	figure("site.sun_h", 1, 12, func(c *Crop) *float64 { return &c.SunHours }),
	{name: "rotation.interval_years", max: 12, needed: true, set: func(c *Crop, f Fact) { c.RotationYears = int(f.Value) }},
	option("seed.life_years", 0.5, 12, func(c *Crop) *float64 { return &c.Seed.LifeYears }),
	option("seed.per_gram_count", 0.3, 5000, func(c *Crop) *float64 { return &c.Seed.PerGram }),
}

// Growth.From: where thermal time begins.
const (
	FromEmergence  = "emergence"
	FromTransplant = "transplant"
	FromPlanting   = "planting"
	FromNewYear    = "new year"
)

// The picking patterns.
const (
	PickedOnce      = "single"
	PickedRepeated  = "repeated"
	CutAndComeAgain = "cut-and-come-again"
)

var growthRules = []rule[Crop]{
	figure("growth.base_c", -3, 15, func(c *Crop) *float64 { return &c.Growth.BaseC }),
	figure("growth.plateau_c", 15, 40, func(c *Crop) *float64 { return &c.Growth.PlateauC }),
	option("growth.hot_c", 15, 40, func(c *Crop) *float64 { return &c.Growth.HotC }),
	wording("growth.from_text", true, func(c *Crop) *string { return &c.Growth.From }, FromEmergence, FromTransplant, FromPlanting, FromNewYear),
	class("early"), class("mid"), class("late"),
	option("growth.standing_cday", 50, 2000, func(c *Crop) *float64 { return &c.Growth.StandingCDay }),
	option("rest.cold_d", 1, 150, func(c *Crop) *float64 { return &c.Growth.RestDays }),
	option("rest.below_c", 0, 20, func(c *Crop) *float64 { return &c.Growth.RestBelowC }),
	wording("picking.pattern_text", true, func(c *Crop) *string { return &c.Picking.Pattern }, PickedOnce, PickedRepeated, CutAndComeAgain),
	spread("picking.span_d", 1, 365, func(c *Crop, low, typical, high float64) {
		c.Picking.DaysMin, c.Picking.Days, c.Picking.DaysMax = low, typical, high
	}),
	yesNo("picking.small_yes", func(c *Crop) *bool { return &c.Picking.Small }),
	yesNo("picking.stands_yes", func(c *Crop) *bool { return &c.Picking.Stands }),
	option("picking.every_d", 1, 14, func(c *Crop) *float64 { return &c.Picking.EveryDays }),
	option("picking.neglected_share", 0, 1, func(c *Crop) *float64 { return &c.Picking.NeglectedShare }),
}

func class(name string) rule[Crop] {
	return rule[Crop]{name: "growth.first_pick_" + name + "_cday", min: 50, max: 3500, needed: true, set: func(c *Crop, f Fact) {
		c.Classes = append(c.Classes, Class{Name: name, ToFirstPickCDay: f.Value, LogSD: LogSD(f.Low, f.High)})
	}}
}

// ZTenth is the standard normal deviate that one in ten lies beyond. The low
// and high of a figure that scatters stand for the ends of its middle 80 %.
const ZTenth = 1.2816

// LogSD is the spread of a figure's logarithm, its low and high being taken as
// the ends of the middle 80 %; 0 where there is no range.
func LogSD(low, high float64) float64 {
	if math.IsNaN(low) || low <= 0 {
		return 0
	}
	return math.Log(high/low) / (2 * ZTenth)
}

// spreadClasses gives classes without a range of their own a share of the
// spread from early to late kinds, which are taken as the ends of the middle
// 80 % of all kinds.
func (c *Crop) spreadClasses(share float64) {
	all := LogSD(c.Classes[0].ToFirstPickCDay, c.Classes[len(c.Classes)-1].ToFirstPickCDay)
	for i := range c.Classes {
		if c.Classes[i].LogSD == 0 {
			c.Classes[i].LogSD = share * all
		}
	}
}

func germinationRules() []rule[Crop] {
	rules := []rule[Crop]{
		option("germ.min_soil_c", 0, 20, func(c *Crop) *float64 { return &c.Germination.MinSoilC }),
		option("germ.opt_low_c", 2, 30, func(c *Crop) *float64 { return &c.Germination.OptLowC }),
		option("germ.opt_high_c", 10, 45, func(c *Crop) *float64 { return &c.Germination.OptHighC }),
		option("germ.max_soil_c", 15, 45, func(c *Crop) *float64 { return &c.Germination.MaxSoilC }),
	}
	for tempC := 0; tempC <= 40; tempC += 5 {
		rules = append(rules, rule[Crop]{name: fmt.Sprintf("germ.percent_%02d_pc", tempC), max: 100, set: func(c *Crop, f Fact) {
			if len(c.Germination.PercentAt) == tempC/5 { // a gap is caught by the check on length
				c.Germination.PercentAt = append(c.Germination.PercentAt, f.Value)
			}
		}})
	}
	return rules
}

// hardinessStages in the order a plant meets them; wintering is any stage in
// the short days of winter.
var hardinessStages = []string{"young", "growing", "flowering", "standing", "wintering"}

func coldRules() []rule[Crop] {
	var rules []rule[Crop]
	for _, stage := range hardinessStages {
		at := func(c *Crop) *Hardiness { return c.hardiness(stage) }
		rules = append(rules,
			option("cold."+stage+".damage_c", -40, 15, func(c *Crop) *float64 { return &at(c).DamageC }),
			option("cold."+stage+".kill_c", -40, 10, func(c *Crop) *float64 { return &at(c).KillC }),
			option("cold."+stage+".setback_d", 0, 60, func(c *Crop) *float64 { return &at(c).SetbackD }),
			yesNo("cold."+stage+".regrows_yes", func(c *Crop) *bool { return &at(c).Regrows }),
		)
	}
	return rules
}

// hardiness is the place for a stage, made when first asked for. The table
// gives stages in their order.
func (c *Crop) hardiness(stage string) *Hardiness {
	for i := range c.Hardiness {
		if c.Hardiness[i].Stage == stage {
			return &c.Hardiness[i]
		}
	}
	c.Hardiness = append(c.Hardiness, Hardiness{Stage: stage, DamageC: math.NaN(), KillC: math.NaN()})
	return &c.Hardiness[len(c.Hardiness)-1]
}

var boltingRules = []rule[Crop]{
	option("bolt.chill_max_c", 2, 20, func(c *Crop) *float64 { return &c.Bolting.ChillMaxC }),
	option("bolt.chill_min_c", -10, 10, func(c *Crop) *float64 { return &c.Bolting.ChillMinC }),
	option("bolt.cold_d", 1, 250, func(c *Crop) *float64 { return &c.Bolting.ColdDays }),
	option("bolt.juvenile_cday", 0, 2000, func(c *Crop) *float64 { return &c.Bolting.JuvenileCDay }),
	option("bolt.long_day_h", 10, 18, func(c *Crop) *float64 { return &c.Bolting.LongDayH }),
	option("bolt.reset_c", 12, 30, func(c *Crop) *float64 { return &c.Bolting.ResetC }),
	yesNo("bolt.wanted_yes", func(c *Crop) *bool { return &c.Bolting.WantedForCrop }),
	yesNo("bolt.by_long_day_yes", func(c *Crop) *bool { return &c.Bolting.ByLongDayAlone }),
	option("bolt.days_to_bolt_d", 0, 120, func(c *Crop) *float64 { return &c.Bolting.DaysToBolt }),
}

var heatRules = []rule[Crop]{
	option("heat.set_stops_max_c", 20, 50, func(c *Crop) *float64 { return &c.Heat.SetStopsMaxC }),
	option("heat.set_stops_min_c", 2, 20, func(c *Crop) *float64 { return &c.Heat.SetStopsMinC }),
	option("heat.bolts_mean_c", 15, 35, func(c *Crop) *float64 { return &c.Heat.BoltsMeanC }),
	option("heat.bolts_d", 1, 60, func(c *Crop) *float64 { return &c.Heat.BoltsDays }),
	option("daylength.bulbs_above_h", 10, 17, func(c *Crop) *float64 { return &c.DayLength.BulbsAboveH }),
	option("daylength.middle_above_h", 10, 17, func(c *Crop) *float64 { return &c.DayLength.MiddleAboveH }),
	option("daylength.short_above_h", 9, 17, func(c *Crop) *float64 { return &c.DayLength.ShortAboveH }),
	option("daylength.bulbs_after_cday", 0, 2000, func(c *Crop) *float64 { return &c.DayLength.BulbsAfterCDay }),
	option("daylength.tubers_below_h", 9, 17, func(c *Crop) *float64 { return &c.DayLength.TubersBelowH }),
	option("daylength.tubers_after_cday", 0, 2500, func(c *Crop) *float64 { return &c.DayLength.TubersAfterCDay }),
}
