package season

import (
	"fmt"

	"haulm/internal/calendar"
	"haulm/internal/diary"
)

// setOut is the planting out of raised plants. Where nothing would come of them
// it is not asked for: the line of the planting says so.
func (j *jobber) setOut(s *Standing) {
	if s.Stage != Raising || !s.Out.Known() || bringsNothing(s) {
		return
	}
	hold := int(j.g.in.Catalogue.Constants.HoldDays)
	due := max(s.Out, j.g.in.Today)
	until := max(due, s.Out.Add(hold))
	j.add(s, Job{
		Kind: "set out", Title: "Plant out " + s.name(), TicksOff: diary.Planted,
		Amount:  fmt.Sprintf("%s, %s", s.count(), spacingWords(&s.Planting, j.g.say())),
		Minutes: s.Crop.Labour.SetOutPerM2 * s.AreaM2,
		Why:     j.outWhy(s),
		Since:   s.Out, Due: due, Until: until, Cost: portions(s), Cautions: actCautions(s, "plant"),
		CostSays: fmt.Sprintf("plants held beyond %s are pot-bound; the crop is worth %s", until.Format("2 January"), worthWords(portions(s))),
	})
}

// outWhy says why raised plants go out on their day: a frost that is forecast
// holds them until it is past.
func (j *jobber) outWhy(s *Standing) string {
	sown := "sown " + s.Begun.Format("2 January")
	if cold, ok := j.g.lastFrost(&s.Planting); ok && s.Out == cold.day.Add(1) {
		say, killC := j.g.say(), j.g.youngKillC(&s.Planting)
		stands := "it stands " + say.temp(killC)
		if cold.lowC > killC {
			stands += " (a forecast errs by up to " + say.warmth(rule("alarm.forecast_margin_c")) + ")"
		}
		return fmt.Sprintf("%s; %s is forecast for the night to %s and %s: keep the plants in until that is past, then water them in",
			sown, say.temp(cold.lowC), cold.day.Format("2 January"), stands)
	}
	return fmt.Sprintf("%s, fit to go out and nights are mild by %s in half the years; water them in", sown, s.Out.Format("2 January"))
}

// youngKillC is the low of the air outside that kills a planting just set out.
func (g *grower) youngKillC(p *Planting) float64 {
	cover, _ := g.in.Catalogue.Cover(p.Place.Cover) // the track has asked for it before
	return p.Crop.ColdAt("young").KillC - cover.MinC
}

// lastFrost is the last night of the forecast that a planting just set out would
// not be safe in: the same nights of which an alarm would tell.
func (g *grower) lastFrost(p *Planting) (last night, ok bool) {
	if g.in.Forecast == nil {
		return night{}, false
	}
	limitC := g.youngKillC(p) + rule("alarm.forecast_margin_c")
	for _, d := range g.in.Forecast.Days {
		if d.Date >= g.in.Today && d.TminC <= limitC {
			last, ok = night{d.Date, d.TminC}, true
		}
	}
	return last, ok
}

// safeFrom is the day after the last frost of the forecast, 0 where it has none.
func (g *grower) safeFrom(p *Planting) calendar.Date {
	if cold, ok := g.lastFrost(p); ok {
		return cold.day.Add(1)
	}
	return 0
}
