package crop

// routeNames are the routes there are, as a gardener says them.
var routeNames = map[string]string{
	"drilled": "drilled", "station": "sown at stations", "module": "in modules", "multisown": "in multi-sown modules",
	"pot": "in pots", "sets": "from sets", "autumn_sets": "from autumn sets", "tubers": "from tubers",
	"chitted": "from chitted tubers", "cloves": "from cloves", "crowns": "from crowns", "offsets": "from offsets",
	"runners": "from runners", "slips": "from slips",
}

var routeRules = []rule[Route]{
	yesNo("route.usual_yes", func(r *Route) *bool { return &r.Usual }),
	yesNo("route.vegetative_yes", func(r *Route) *bool { return &r.Vegetative }),
	yesNo("route.raised_yes", func(r *Route) *bool { return &r.Raised }),
	option("route.raise_c", 10, 30, func(r *Route) *float64 { return &r.RaiseC }),
	option("route.raise_cday", 30, 2500, func(r *Route) *float64 { return &r.RaiseCDay }),
	option("route.cells_per_plant_ratio", 0.05, 10, func(r *Route) *float64 { return &r.CellsPerPlant }),
	spread("route.raise_weeks", 1, 20, func(r *Route, low, _, high float64) {
		r.RaiseWeeksMin, r.RaiseWeeksMax = low, high
	}).ifAny(),
	figure("route.depth_cm", 0, 20, func(r *Route) *float64 { return &r.SowDepthCM }),
	figure("route.seeds_per_plant_count", 1, 10, func(r *Route) *float64 { return &r.SeedsPerPlant }),
	figure("route.in_row_cm", 1, 300, func(r *Route) *float64 { return &r.InRowCM }),
	figure("route.between_row_cm", 5, 300, func(r *Route) *float64 { return &r.BetweenRowCM }),
	option("route.bed_spacing_cm", 2, 300, func(r *Route) *float64 { return &r.BedCM }),
	option("route.per_station_count", 1, 12, func(r *Route) *float64 { return &r.PerStation }),
	wording("route.from_mmdd", false, func(r *Route) *string { return &r.FromMonthDay }),
	wording("route.to_mmdd", false, func(r *Route) *string { return &r.ToMonthDay }),
	figure("route.cost_per_plant_money", 0, 20, func(r *Route) *float64 { return &r.CostPerPlant }),
	option("route.pot_min_litres", 0.1, 100, func(r *Route) *float64 { return &r.PotMinLitres }),
	figure("route.emerge_base_c", -3, 16, func(r *Route) *float64 { return &r.EmergeBaseC }),
	{name: "route.emerge_cday", min: 10, max: 600, needed: true, set: func(r *Route, f Fact) {
		r.EmergeCDay, r.EmergeLogSD = f.Value, LogSD(f.Low, f.High)
	}},
}

// finish fills what follows from the facts.
func (r *Route) finish(c *Crop) {
	r.Name = routeNames[r.Key]
	if r.PerStation == 0 {
		r.PerStation = 1
	}
	if r.InRowCM > 0 && r.BetweenRowCM > 0 {
		r.PlantsPerM2 = r.PerStation * 1e4 / (r.InRowCM * r.BetweenRowCM)
	}
	for _, h := range c.Hardiness {
		if h.Stage == "wintering" {
			r.AfterWinterKey = h.Stage
		}
	}
}

var coverRules = []rule[Cover]{
	figure("cover.min_c", -5, 10, func(c *Cover) *float64 { return &c.MinC }),
	figure("cover.mean_c", -2, 12, func(c *Cover) *float64 { return &c.MeanC }),
	figure("cover.max_c", -2, 20, func(c *Cover) *float64 { return &c.MaxC }),
	figure("cover.light_share", 0.2, 1, func(c *Cover) *float64 { return &c.LightShare }),
	figure("cover.rain_share", 0, 1, func(c *Cover) *float64 { return &c.RainShare }),
}

var constantRules = []rule[Constants]{
	figure("light.full_mj", 2, 20, func(c *Constants) *float64 { return &c.LightFullMJ }),
	figure("light.fruit_full_mj", 5, 25, func(c *Constants) *float64 { return &c.LightFruitMJ }),
	figure("light.none_mj", 0, 5, func(c *Constants) *float64 { return &c.LightNoneMJ }),
	figure("light.window_share", 0, 1, func(c *Constants) *float64 { return &c.WindowLightShare }),
	figure("season.hardened_below_h", 8, 13, func(c *Constants) *float64 { return &c.HardenedBelowH }),
	figure("season.standstill_below_h", 8, 13, func(c *Constants) *float64 { return &c.StandstillBelowH }),
	figure("season.small_from_share", 0.3, 1, func(c *Constants) *float64 { return &c.SmallFromShare }),
	figure("season.too_hot_above_plateau_c", 2, 30, func(c *Constants) *float64 { return &c.TooHotAboveC }),
	figure("season.fair_day_c", 10, 25, func(c *Constants) *float64 { return &c.FairDayC }),
	figure("raise.credit_share", 0.1, 0.9, func(c *Constants) *float64 { return &c.RaisedCreditShare }),
	figure("raise.indoor_c", 10, 30, func(c *Constants) *float64 { return &c.IndoorC }),
	figure("raise.hardening_off_d", 0, 30, func(c *Constants) *float64 { return &c.HardeningOffDays }),
	figure("raise.transplant_check_d", 0, 30, func(c *Constants) *float64 { return &c.TransplantCheckDays }),
	figure("raise.hold_d", 0, 60, func(c *Constants) *float64 { return &c.HoldDays }),
	figure("raise.set_out_margin_c", 0, 20, func(c *Constants) *float64 { return &c.SetOutMarginC }),
	figure("soil.sowing_depth_cm", 0.5, 20, func(c *Constants) *float64 { return &c.SowingDepthCM }),
	figure("emerge.field_low_share", 0.1, 1, func(c *Constants) *float64 { return &c.FieldFactorLow }),
	figure("emerge.field_share", 0.1, 1, func(c *Constants) *float64 { return &c.FieldFactor }),
	figure("emerge.field_high_share", 0.1, 1, func(c *Constants) *float64 { return &c.FieldFactorHigh }),
	figure("emerge.rot_margin_c", 0, 10, func(c *Constants) *float64 { return &c.RotMarginC }),
	figure("emerge.rot_d", 3, 60, func(c *Constants) *float64 { return &c.RotDays }),
	figure("emerge.least_share", 0, 1, func(c *Constants) *float64 { return &c.LeastEmergenceShare }),
	figure("stage.young_until_share", 0, 1, func(c *Constants) *float64 { return &c.YoungUntilShare }),
	figure("stage.growing_until_share", 0, 1, func(c *Constants) *float64 { return &c.GrowingUntilShare }),
	figure("stage.tubers_from_share", 0, 1, func(c *Constants) *float64 { return &c.TubersFromShare }),
	figure("pick.late_share", 0, 1, func(c *Constants) *float64 { return &c.LatePickShare }),
	figure("pick.standing_share", 0, 1, func(c *Constants) *float64 { return &c.StandingPickShare }),
	figure("pick.cap_share", 1, 4, func(c *Constants) *float64 { return &c.PickingCapShare }),
	figure("pick.worth_share", 0, 0.5, func(c *Constants) *float64 { return &c.WorthPickingShare }),
	figure("pick.set_lead_d", 0, 90, func(c *Constants) *float64 { return &c.SetLeadDays }),
	figure("raise.tray_share", 0.2, 1, func(c *Constants) *float64 { return &c.TrayShare }),
	figure("season.hot_spell_ratio", 1, 10, func(c *Constants) *float64 { return &c.HotSpellRatio }),
	figure("doubt.kind_share", 0, 1, func(c *Constants) *float64 { return &c.KindShare }),
	figure("doubt.site_share", 0, 0.5, func(c *Constants) *float64 { return &c.SiteLogSD }),
	figure("doubt.emerge_share", 0, 0.8, func(c *Constants) *float64 { return &c.EmergeLogSD }),
	figure("doubt.site_emerge_share", 0, 0.8, func(c *Constants) *float64 { return &c.SiteEmergeLogSD }),
	figure("learn.garden_pace_share", 0.01, 0.5, func(c *Constants) *float64 { return &c.GardenPaceLogSD }),
	figure("learn.planting_pace_share", 0.01, 0.5, func(c *Constants) *float64 { return &c.PlantingPaceLogSD }),
	figure("learn.garden_yield_share", 0.01, 1, func(c *Constants) *float64 { return &c.GardenYieldLogSD }),
	figure("learn.planting_yield_share", 0.01, 1, func(c *Constants) *float64 { return &c.PlantingYieldLogSD }),
	figure("course.longest_d", 100, 800, func(c *Constants) *float64 { return &c.LongestCourseDays }),
	figure("season.bulb_margin_h", 0, 3, func(c *Constants) *float64 { return &c.BulbMarginH }),
	figure("water.initial_until_share", 0, 0.5, func(c *Constants) *float64 { return &c.WaterInitialShare }),
	figure("water.full_from_share", 0.3, 1, func(c *Constants) *float64 { return &c.WaterFullShare }),
	figure("water.root_seedling_m", 0.05, 0.4, func(c *Constants) *float64 { return &c.SeedlingRootM }),
	figure("water.surface_layer_m", 0.05, 0.2, func(c *Constants) *float64 { return &c.SurfaceLayerM }),
	figure("drought.window_d", 7, 60, func(c *Constants) *float64 { return &c.DroughtWindowDays }),
	figure("drought.dry_share", 0, 0.5, func(c *Constants) *float64 { return &c.DryShare }),
	figure("drought.dead_d", 1, 60, func(c *Constants) *float64 { return &c.DryDeadDays }),
	figure("drought.tell_share", 0.05, 0.8, func(c *Constants) *float64 { return &c.DroughtToldShare }),
	figure("pot.capacity_share", 0.2, 0.8, func(c *Constants) *float64 { return &c.PotCapacity }),
	figure("pot.unavailable_share", 0.05, 0.5, func(c *Constants) *float64 { return &c.PotUnavailable }),
	figure("pot.use_until_share", 0.1, 0.9, func(c *Constants) *float64 { return &c.PotUseShare }),
	figure("pot.hot_c", 0, 10, func(c *Constants) *float64 { return &c.PotHotC }),
	figure("pot.winter_c", 0, 15, func(c *Constants) *float64 { return &c.PotWinterC }),
	figure("pot.least_yield_share", 0.1, 1, func(c *Constants) *float64 { return &c.PotLeastYield }),
	figure("pot.doubled_yield_ratio", 1, 2, func(c *Constants) *float64 { return &c.PotDoubledYield }),
	figure("pot.can_min", 0.05, 5, func(c *Constants) *float64 { return &c.PotCanMinutes }),
	figure("perennial.first_year_share", 0, 1, func(c *Constants) *float64 { return &c.PerennialFirstShare }),
	figure("shade.tall_from_m", 0.3, 3, func(c *Constants) *float64 { return &c.TallFromM }),
}
