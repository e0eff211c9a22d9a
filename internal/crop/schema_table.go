package crop

import "math"

// Facts of ground, store, table and work.

var yieldRules = []rule[Crop]{
	spread("yield.typical_kg_m2", 0.05, 30, func(c *Crop, low, typical, high float64) {
		c.Yield.LowKgM2, c.Yield.TypicalKgM2, c.Yield.HighKgM2 = low, typical, high
	}),
	figure("yield.ref_per_m2", 0.1, 500, func(c *Crop) *float64 { return &c.Yield.RefPlantsM2 }),
}

var waterRules = []rule[Crop]{
	figure("water.kc_ini_ratio", 0.1, 1.3, func(c *Crop) *float64 { return &c.Water.KcIni }),
	figure("water.kc_mid_ratio", 0.5, 1.3, func(c *Crop) *float64 { return &c.Water.KcMid }),
	figure("water.kc_end_ratio", 0.2, 1.3, func(c *Crop) *float64 { return &c.Water.KcEnd }),
	figure("water.root_min_m", 0.1, 2, func(c *Crop) *float64 { return &c.Water.RootMinM }),
	figure("water.root_max_m", 0.1, 2.5, func(c *Crop) *float64 { return &c.Water.RootMaxM }),
	figure("water.depletion_share", 0.1, 0.8, func(c *Crop) *float64 { return &c.Water.Depletion }),
	figure("water.ky_ratio", 0.2, 1.6, func(c *Crop) *float64 { return &c.Water.Ky }),
	wording("water.critical_text", true, func(c *Crop) *string { return &c.Water.CriticalStage }),
	figure("water.critical_from_share", 0, 0.95, func(c *Crop) *float64 { return &c.Water.CriticalFromShare }),
	option("water.critical_ky_ratio", 0.2, 2, func(c *Crop) *float64 { return &c.Water.CriticalKy }),
}

var keepingRules = []rule[Crop]{
	wording("keeping.method_text", true, func(c *Crop) *string { return &c.Keeping.Method }),
	wording("keeping.curing_text", false, func(c *Crop) *string { return &c.Keeping.Curing }),
	spread("keeping.best_life_d", 1, 500, func(*Crop, float64, float64, float64) {}), // kept among the Facts only
	spread("keeping.home_life_d", 1, 500, func(c *Crop, low, mean, high float64) {
		c.Keeping.LifeLowD, c.Keeping.LifeHighD, c.Keeping.WeeklyKeep = low, high, weeklyKeep(mean)
	}),
	yesNo("keeping.stored_yes", func(c *Crop) *bool { return &c.Keeping.Stored }),
}

// weeklyKeep is the share of a store still good a week later, when loss falls
// on all of it alike and its mean life is lifeD days: exp(-7/life). Our model
// choice; no household loss curve has been published.
func weeklyKeep(lifeD float64) float64 { return math.Exp(-7 / lifeD) }

var portionRules = []rule[Crop]{
	figure("portion.size_g", 1, 400, func(c *Crop) *float64 { return &c.Portion.Grams }),
	figure("portion.edible_pc", 10, 100, func(c *Crop) *float64 { return &c.Portion.EdiblePC }),
	figure("portion.kcal_100g", 5, 400, func(c *Crop) *float64 { return &c.Portion.KcalPer100 }),
}

var labourRules = []rule[Crop]{
	figure("labour.sow_min_m2", 0, 60, func(c *Crop) *float64 { return &c.Labour.SowPerM2 }),
	figure("labour.raise_min_m2", 0, 60, func(c *Crop) *float64 { return &c.Labour.RaisePerM2 }),
	figure("labour.set_out_min_m2", 0, 60, func(c *Crop) *float64 { return &c.Labour.SetOutPerM2 }),
	figure("labour.tend_min_m2_week", 0, 15, func(c *Crop) *float64 { return &c.Labour.TendPerM2W }),
	figure("labour.pick_min_kg", 0.2, 60, func(c *Crop) *float64 { return &c.Labour.PickPerKg }),
	figure("labour.clear_min_m2", 0, 60, func(c *Crop) *float64 { return &c.Labour.ClearPerM2 }),
	figure("labour.water_min_m2_week", 0, 5, func(c *Crop) *float64 { return &c.Labour.WaterPerM2W }),
}
