package crop

import (
	"errors"
	"fmt"

	"haulm/internal/calendar"
)

// check says what is wrong with a crop as a whole: figures that are each in
// bounds but contradict one another.
func (c *Crop) check() error {
	checks := []func() error{c.checkGrowth, c.checkGermination, c.checkCold, c.checkBolting, c.checkDayLength, c.checkStore, c.checkRoutes}
	for _, check := range checks {
		if err := check(); err != nil {
			return err
		}
	}
	return nil
}

func (c *Crop) checkGrowth() error {
	if c.Growth.PlateauC <= c.Growth.BaseC {
		return fmt.Errorf("growth plateau %g °C is not above its base %g °C", c.Growth.PlateauC, c.Growth.BaseC)
	}
	if c.Growth.HotC < c.Growth.PlateauC {
		return fmt.Errorf("growth is slowed by heat from %g °C, below its plateau %g °C", c.Growth.HotC, c.Growth.PlateauC)
	}
	if len(c.Classes) != 3 || c.Classes[0].Name != "early" || c.Classes[1].Name != "mid" || c.Classes[2].Name != "late" {
		return errors.New("classes must stand in the order early, mid, late")
	}
	for i := range 2 {
		if c.Classes[i].ToFirstPickCDay >= c.Classes[i+1].ToFirstPickCDay {
			return fmt.Errorf("%s kinds must be sooner ready than %s", c.Classes[i].Name, c.Classes[i+1].Name)
		}
	}
	if c.Perennial && c.Growth.From != FromNewYear && c.Growth.StandingCDay == 0 {
		return fmt.Errorf("a perennial that grows from %s needs standing_cday for the years after", c.Growth.From)
	}
	if !c.Perennial && (c.Growth.StandingCDay > 0 || c.Growth.RestDays > 0) || (c.Growth.RestDays > 0) != (c.Growth.RestBelowC > 0) {
		return errors.New("standing_cday, rest.cold_d and rest.below_c are for perennials, the last two together")
	}
	if (c.Growth.From == FromNewYear) && !c.Perennial {
		return errors.New("only perennials grow from the new year")
	}
	return nil
}

func (c *Crop) checkGermination() error {
	g := c.Germination
	if g.MinSoilC == 0 && g.MaxSoilC == 0 {
		for _, r := range c.Routes {
			if !r.Vegetative {
				return fmt.Errorf("route %s is from seed, but there are no germination temperatures", r.Key)
			}
		}
		return nil
	}
	if g.MinSoilC > g.OptLowC || g.OptLowC > g.OptHighC || g.OptHighC > g.MaxSoilC {
		return fmt.Errorf("germination temperatures %g, %g, %g, %g °C are not in order", g.MinSoilC, g.OptLowC, g.OptHighC, g.MaxSoilC)
	}
	if n := len(g.PercentAt); n != 0 && n != 9 {
		return errors.New("germination needs all nine percentages at 0, 5 … 40 °C or none, in order")
	}
	return nil
}

func (c *Crop) checkCold() error {
	if len(c.Hardiness) == 0 {
		return errors.New("no hardiness is given")
	}
	last := -1
	for _, h := range c.Hardiness {
		at := stageOrder(h.Stage)
		if at <= last {
			return fmt.Errorf("hardiness stages must stand in the order %v", hardinessStages)
		}
		last = at
		if h.KillC > h.DamageC {
			return fmt.Errorf("%s: killed at %g °C but harmed only at %g °C", h.Stage, h.KillC, h.DamageC)
		}
		if h.Regrows != (h.SetbackD > 0) {
			return fmt.Errorf("%s: regrows_yes and setback_d go together", h.Stage)
		}
	}
	if c.Hardiness[0].Stage == "wintering" {
		return errors.New("hardiness must name a stage of the growing season first")
	}
	return nil
}

func stageOrder(stage string) int {
	for i, name := range hardinessStages {
		if name == stage {
			return i
		}
	}
	return -1
}

func (c *Crop) checkBolting() error {
	b := c.Bolting
	switch {
	case b.ColdDays > 0 && b.ChillMaxC <= b.ChillMinC:
		return errors.New("chill must lie between two temperatures")
	case b.ColdDays > 0 && b.ByLongDayAlone:
		return errors.New("either cold or long days bring on bolting, not both")
	case b.ByLongDayAlone && b.LongDayH == 0:
		return errors.New("bolting by long days needs long_day_h")
	case b.WantedForCrop && b.ColdDays == 0:
		return errors.New("cold is wanted but no cold_d given")
	case (b.ColdDays > 0 || b.ByLongDayAlone) && !b.WantedForCrop && b.DaysToBolt == 0:
		return errors.New("bolting needs days_to_bolt_d")
	case (c.Heat.BoltsMeanC > 0) != (c.Heat.BoltsDays > 0):
		return errors.New("bolting in heat needs both bolts_mean_c and bolts_d")
	}
	return nil
}

func (c *Crop) checkDayLength() error {
	d := c.DayLength
	switch {
	case (d.BulbsAboveH > 0) != (d.BulbsAfterCDay > 0):
		return errors.New("bulbing needs both bulbs_above_h and bulbs_after_cday")
	case d.BulbsAfterCDay >= c.Classes[0].ToFirstPickCDay:
		return errors.New("bulbing begins after the earliest kinds are ready")
	case d.MiddleAboveH > d.BulbsAboveH || d.ShortAboveH > d.BulbsAboveH || d.MiddleAboveH > 0 && d.ShortAboveH > d.MiddleAboveH:
		return errors.New("kinds for lower latitudes must bulb in shorter days: short_above_h, middle_above_h, bulbs_above_h in order")
	case (d.TubersBelowH > 0) != (d.TubersAfterCDay > 0):
		return errors.New("tubers need both tubers_below_h and tubers_after_cday")
	case d.TubersAfterCDay >= c.Classes[0].ToFirstPickCDay:
		return errors.New("tubers begin after the earliest kinds are ready")
	case d.TubersBelowH > 0 && d.BulbsAboveH > 0:
		return errors.New("a crop makes bulbs or tubers, not both")
	}
	return nil
}

func (c *Crop) checkStore() error {
	if c.Water.RootMinM > c.Water.RootMaxM {
		return fmt.Errorf("roots: least depth %g m is more than the most %g m", c.Water.RootMinM, c.Water.RootMaxM)
	}
	if c.Picking.NeglectedShare > 0 && c.Picking.EveryDays == 0 {
		return errors.New("picking: neglected_share needs every_d")
	}
	if c.Labour.WaterPerM2W > c.Labour.TendPerM2W {
		return errors.New("cans take longer than all the tending they are part of")
	}
	if c.Yield.LowKgM2 > c.Yield.TypicalKgM2 || c.Yield.TypicalKgM2 > c.Yield.HighKgM2 {
		return errors.New("yields are not in order")
	}
	return nil
}

func (c *Crop) checkRoutes() error {
	usual := 0
	for i := range c.Routes {
		r := &c.Routes[i]
		if r.Usual {
			usual++
		}
		if err := c.checkRoute(r); err != nil {
			return fmt.Errorf("route %s: %w", r.Key, err)
		}
	}
	if usual != 1 {
		return fmt.Errorf("has %d usual routes, should have one", usual)
	}
	return nil
}

func (c *Crop) checkRoute(r *Route) error {
	if r.Raised != (r.RaiseWeeksMax > 0) || r.Raised != (r.RaiseC > 0) || r.Raised != (r.CellsPerPlant > 0) || r.Raised != (r.RaiseCDay > 0) {
		return errors.New("raised_yes, raise_c, raise_weeks, raise_cday and cells_per_plant_ratio go together")
	}
	if r.Raised && r.RaiseC <= r.EmergeBaseC {
		return fmt.Errorf("raised at %g °C, but nothing comes up at or below %g °C", r.RaiseC, r.EmergeBaseC)
	}
	if r.Raised && r.Vegetative {
		return errors.New("sets and tubers are not raised indoors")
	}
	if (r.FromMonthDay == "") != (r.ToMonthDay == "") {
		return errors.New("from_mmdd and to_mmdd go together")
	}
	for _, day := range []string{r.FromMonthDay, r.ToMonthDay} {
		if day == "" {
			continue
		}
		if _, err := calendar.ParseMonthDay(day); err != nil {
			return fmt.Errorf("start window: %w", err)
		}
	}
	return nil
}
