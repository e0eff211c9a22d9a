package season

import (
	"fmt"
	"math"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/garden"
	"haulm/internal/sun"
)

// night is one coming night's low of the air.
type night struct {
	day  calendar.Date
	lowC float64
}

// nights are the coming nights of the forecast.
func (g *grower) nights() []night {
	var out []night
	if g.in.Forecast == nil {
		return nil
	}
	last := g.in.Today.Add(int(rule("alarm.nights_ahead")))
	for _, d := range g.in.Forecast.Days {
		if d.Date >= g.in.Today && d.Date < last && !math.IsNaN(d.TminC) {
			out = append(out, night{d.Date, d.TminC})
		}
	}
	return out
}

// coldLimits are the lows, °C in the air outside, at which a planting is
// checked and killed as it stands.
func (g *grower) coldLimits(s *Standing) (damageC, killC float64, cover crop.Cover) {
	cold := s.Crop.ColdAt(s.coldStage())
	damageC, killC = cold.DamageC, cold.KillC
	hours := sun.DayLengthH(g.in.Garden.Site.LatDeg, g.in.Today.YearDay())
	if s.Crop.Winters() && hours < g.in.Catalogue.Constants.HardenedBelowH {
		winter := s.Crop.ColdAt("wintering")
		damageC, killC = math.Min(damageC, winter.DamageC), math.Min(killC, winter.KillC)
	}
	cover, _ = g.in.Catalogue.Cover(s.Place.Cover) // the track has asked for it before
	if s.deeds.covered {
		if fleece, err := g.in.Catalogue.Cover("fleece"); err == nil {
			cover.MinC += fleece.MinC
			cover.Name += " and fleece"
		}
	}
	return damageC, killC, cover
}

// frost tells the first night that may kill a planting, or its odds where there
// is no forecast. Of a night that only checks it nothing is told: there is
// nothing to be done but to let it be.
func (g *grower) frost(s *Standing) []Alarm {
	damageC, killC, cover := g.coldLimits(s)
	killC, damageC = killC-cover.MinC, damageC-cover.MinC // in the air outside
	if damageC > chillingFromC {
		damageC = killC // what checks a plant above freezing is chilling, not frost
	}
	nights := g.nights()
	if len(nights) == 0 {
		return g.frostWatch(s, killC)
	}
	worst := nights[0]
	for _, n := range nights {
		if n.lowC < worst.lowC {
			worst = n
		}
	}
	mayKillC := killC + rule("alarm.forecast_margin_c")
	if worst.lowC > mayKillC {
		return nil
	}
	first := worst
	for _, n := range nights {
		if n.lowC <= mayKillC {
			first = n
			break
		}
	}
	return []Alarm{g.frostAlarm(s, first, worst, damageC, killC, cover)}
}

// chillingFromC parts frost from chilling: no frost damage begins above it
// (definition of an air frost, with a degree for the dip to the ground).
const chillingFromC = 1.0

func (g *grower) frostAlarm(s *Standing, first, worst night, damageC, killC float64, cover crop.Cover) Alarm {
	say, regrows := g.say(), s.Crop.ColdAt(s.coldStage()).Regrows
	mayKill, kills, killIt := "may kill", "kills", "kill it"
	if regrows {
		mayKill, kills, killIt = "may cut down", "cuts down", "cut it down"
	}
	risk, does, limit := 0.5, mayKill, "it stands "+say.temp(killC)
	switch {
	case worst.lowC <= killC:
		risk, does = 1, kills
	case worst.lowC <= math.Min(damageC, 0): // checked by the book, killed only where the forecast errs
		does, limit = "checks", fmt.Sprintf("%s colder would %s", say.warmth(math.Ceil(worst.lowC-killC)), killIt)
	}
	if regrows {
		risk *= 0.3
	}
	a := Alarm{
		Rule:    fmt.Sprintf("%s %s is killed at %s and checked at %s (air outside, under %s)", s.Stage, s.Name, say.temp(killC), say.temp(damageC), cover.Name),
		Numbers: fmt.Sprintf("forecast low %s on the night to %s; a forecast errs by up to %s", say.temp(worst.lowC), worst.day.Format("2 January"), say.warmth(rule("alarm.forecast_margin_c"))),
		Source:  coldSource(s), Risk: risk, Task: "cover", TaskTitle: "Cover " + s.name() + " before dusk",
	}
	a.Says = fmt.Sprintf("Frost %s %s: %s is forecast for the night to %s, and %s.", does, s.Name, say.temp(worst.lowC), worst.day.Format("2 January"), limit)
	g.frostDeed(s, worst, killC, &a, regrows)
	return s.alarm(Frost, first.day, a)
}

// frostDeed says what to do, and not more than it is good for.
func (g *grower) frostDeed(s *Standing, worst night, killC float64, a *Alarm, regrows bool) {
	fleece, err := g.in.Catalogue.Cover("fleece")
	switch {
	case s.Place.Kind == garden.Pots:
		a.Do, a.TaskTitle = "Carry the pots in for the night, or against the house wall under fleece.", "Bring in the pots of "+s.name()
		a.Cautions = []string{"A full pot of 40 litres weighs 30 kg and more: two to lift, or roll it."}
	case s.Stage == Picking && worst.lowC < killC:
		a.Do = "Pick all that is fit today; cover what is to go on."
	case err == nil && worst.lowC+fleece.MinC <= killC && regrows:
		a.Do = fmt.Sprintf("Draw earth over the tops, and fleece above: fleece alone gives about %s.", g.say().warmth(fleece.MinC))
	case err == nil && worst.lowC+fleece.MinC <= killC:
		a.Do = fmt.Sprintf("One fleece gives about %s and is not enough: lay two, off the leaves, edges weighted, and add a sheet on top.", g.say().warmth(fleece.MinC))
	default:
		a.Do = "Lay fleece before dusk, off the leaves, edges weighted; take it off in the morning."
	}
}

func coldSource(s *Standing) string {
	return factSource(s, "cold."+s.coldStage()+".kill_c", "catalogue, nearest stage named")
}

// frostWatch tells, without a forecast, in how many past years the coming week
// had a night that kills.
func (g *grower) frostWatch(s *Standing, killC float64) []Alarm {
	const week = 7
	hit := 0
	for n := range g.splice.years() {
		for k := range week {
			if i, ok := g.splice.index(n, g.in.Today.Add(k)); ok && g.splice.record.TminC[i] <= killC {
				hit++
				break
			}
		}
	}
	share := float64(hit) / float64(g.splice.years())
	if share < rule("alarm.watch_share") {
		return nil
	}
	years := YearsWords(g.splice.years(), g.in.Record.Estimated)
	return []Alarm{s.alarm(Frost, g.in.Today.Add(week), Alarm{
		Rule:    fmt.Sprintf("%s %s is killed at %s in the air outside", s.Stage, s.Name, g.say().temp(killC)),
		Numbers: fmt.Sprintf("in %d of %s a night of the coming week was that cold", hit, years),
		Source:  coldSource(s), Weak: true, Risk: share,
		Do:   "Look at a forecast this evening, and have fleece at hand.",
		Says: fmt.Sprintf("In %d of %s the coming week had a night that would kill %s as it stands; there is no forecast here.", hit, years, s.Name),
	})}
}

// chilling tells cold nights above freezing on tender plants just set out.
func (g *grower) chilling(s *Standing) []Alarm {
	out := s.groundFrom()
	if !out.Known() || g.in.Today-out > calendar.Date(rule("alarm.just_out_days")) || !s.Route.Raised {
		return nil
	}
	cold := s.Crop.ColdAt("young")
	if cold.DamageC <= chillingFromC {
		return nil
	}
	cover, _ := g.in.Catalogue.Cover(s.Place.Cover)
	limit := cold.DamageC - cover.MinC
	for _, n := range g.nights() {
		if n.lowC > limit {
			continue
		}
		return []Alarm{s.alarm(Chilling, n.day, Alarm{
			Rule:    fmt.Sprintf("plants just out are checked by nights at or below %s", g.say().temp(limit)),
			Numbers: fmt.Sprintf("forecast low %s on the night to %s; out since %s", g.say().temp(n.lowC), n.day.Format("2 January"), out.Format("2 January")),
			Source:  coldSource(s), Risk: 0.1,
			Do:   "Fleece or a cloche for the first two weeks; it stands still otherwise.",
			Says: fmt.Sprintf("A night of %s will check %s, out only since %s.", g.say().temp(n.lowC), s.Name, out.Format("2 January")),
		})}
	}
	return nil
}

// bolting counts the cold days that bring a crop to flower.
func (g *grower) bolting(s *Standing) []Alarm {
	b := &s.Crop.Bolting
	if b.ColdDays <= 0 || b.WantedForCrop || b.ByLongDayAlone || s.Share >= 1 || len(s.courses) == 0 {
		return nil
	}
	sc := &s.courses[max(0, s.middle)] // where it bolts in every year none is the middling one
	c := &sc.course
	from := grewFrom(c)
	if !from.Known() {
		return nil
	}
	cover, _ := g.in.Catalogue.Cover(s.Place.Cover)
	fair := math.Min(s.Crop.Growth.PlateauC, g.in.Catalogue.Constants.FairDayC) - s.Crop.Growth.BaseC
	had, heat := 0.0, 0.0
	cold := false
	for day := from; day < g.in.Today; day++ {
		i, ok := g.splice.index(sc.year, day)
		if !ok {
			continue
		}
		heat += s.track.Pace(g.splice.on(sc.year, day), 1) * fair
		mean := (g.splice.record.TminC[i]+g.splice.record.TmaxC[i])/2 + cover.MeanC
		if heat < b.JuvenileCDay {
			continue
		}
		switch {
		case mean >= b.ChillMinC && mean <= b.ChillMaxC:
			had++
			cold = day >= g.in.Today.Add(-7)
		case b.ResetC > 0 && mean > b.ResetC:
			had = math.Max(0, had-1)
		}
	}
	if !cold || had < rule("alarm.bolt_told_share")*b.ColdDays {
		return nil
	}
	a := Alarm{
		Rule:    fmt.Sprintf("%.0f days with a mean of %s to %s, once past its youth, bring it to flower", b.ColdDays, g.say().temp(b.ChillMinC), g.say().temp(b.ChillMaxC)),
		Numbers: fmt.Sprintf("%.0f such days so far", had), Source: factSource(s, "bolt.cold_d", "catalogue"), Risk: math.Min(0.6, 0.4*had/b.ColdDays),
		Do:   "Fleece over it warms the days; sow a few again as a second string, and pick this one young.",
		Says: fmt.Sprintf("%s has had %.0f of the %.0f cold days that make it run to seed.", s.Name, had, b.ColdDays),
	}
	if had >= b.ColdDays {
		a.Do = "It will run to seed: use it young, and sow again now."
		a.Says = fmt.Sprintf("%s has had %.0f cold days, and %.0f make it run to seed.", s.Name, had, b.ColdDays)
	}
	return []Alarm{s.alarm(ColdBolt, g.in.Today, a)}
}
