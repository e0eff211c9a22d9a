package season

import (
	"fmt"
	"math"

	"haulm/internal/calendar"
	"haulm/internal/diary"
	"haulm/internal/garden"
	"haulm/internal/grow"
)

// begin is the sowing, or the planting of sets, tubers and the like.
func (j *jobber) begin(s *Standing) {
	if s.Stage != Waiting || s.Start > j.ahead {
		return
	}
	value := portions(s)
	until, weekCost, weekLater := j.canWait(s, value)
	if until < j.g.in.Today || j.tooLate(s) {
		return // it would bring next to nothing now: the ground is told as free
	}
	verb, amount, say := "Sow", "", j.g.say()
	minutes := s.Crop.Labour.SowPerM2 * s.AreaM2
	ticks := diary.Sown
	switch {
	case s.Route.Vegetative:
		verb, ticks = "Plant", diary.Planted
		amount = fmt.Sprintf("%d %s, %s deep, %s", s.Plants, pieces(s.Route.Key), say.spacing(s.Route.SowDepthCM), spacingWords(&s.Planting, say))
	case s.Route.Raised:
		minutes = s.Crop.Labour.RaisePerM2 * s.AreaM2
		amount = s.sowCount(s.Seeds)
	default:
		amount = fmt.Sprintf("%s, %s deep, %s", s.sowCount(s.Seeds), say.spacing(s.Route.SowDepthCM), spacingWords(&s.Planting, say))
	}
	why := fmt.Sprintf("begun now it is first picked %s", Between(s.FirstPick))
	if !s.FirstPick.P50.Known() {
		why = "begun now it gives " + TimesInTen(s.Success)
	}
	cost := weekWords(weekCost, weekLater)
	switch {
	case bringsNothing(s):
		cost = costWords(value)
	case until == j.g.in.Today:
		cost = "now or never: left, it costs " + worthWords(value)
	}
	title := fmt.Sprintf("%s %s", verb, s.name())
	if s.Route.Raised {
		title += " indoors"
	}
	j.add(s, Job{
		Kind: "begin", Title: title, Amount: amount, Minutes: minutes, Why: why, TicksOff: ticks,
		Since: s.Start, Due: max(s.Start, j.g.in.Today), Until: max(until, s.Start), CostSays: cost,
		Cost:     waitCost(weekCost, value, until, j.g.in.Today) + rule("job.forgotten_share")*value,
		Cautions: actCautions(s, "sow"),
	})
}

// tooLate says that a beginning is past its day and nothing would come of it now
// for the table that the plan was made for: a middling year would bring next to
// nothing, or its ground is to be clear again before the first picking.
func (j *jobber) tooLate(s *Standing) bool {
	if s.Start >= j.g.in.Today {
		return false
	}
	first := s.FirstPick.P50
	return bringsNothing(s) || s.Clear.Known() && (!first.Known() || first > s.Clear)
}

func weekWords(portions float64, later int) string {
	cost := "a week later costs " + worthWords(portions)
	if later > 0 {
		cost += fmt.Sprintf(" and puts the first picking %s back", dayWords(later))
	}
	return cost
}

func dayWords(n int) string {
	if n == 1 {
		return "a day"
	}
	return fmt.Sprintf("%d days", n)
}

// waitCost is what is at stake: the whole crop when it cannot wait a week.
func waitCost(week, whole float64, until, today calendar.Date) float64 {
	if until < today.Add(7) {
		return math.Max(week, whole)
	}
	return week
}

// canWait tries later beginnings: the last that keeps most of what beginning
// today would bring, and what a week costs.
func (j *jobber) canWait(s *Standing, value float64) (until calendar.Date, weekCost float64, weekLater int) {
	const weeks = 10
	begins := j.g.begins(&s.Planting, s.deeds)
	now, nowFirst := j.worth(s, begins)
	until = begins.Add(-1)
	if now <= 0 {
		return until, 0, 0
	}
	until = begins
	for w := 1; w <= weeks; w++ {
		then, first := j.worth(s, begins.Add(7*w))
		if w == 1 {
			weekCost = math.Max(0, value*(1-then/now))
			if first.Known() && nowFirst.Known() {
				weekLater = max(0, int(first-nowFirst))
			}
		}
		if then < rule("job.sow_worth_share")*now {
			break
		}
		until = begins.Add(7 * w)
	}
	return until, weekCost, weekLater
}

// worth is the mean yield of a planting begun on a day, kg/m2, and its
// middling first picking.
func (j *jobber) worth(s *Standing, begins calendar.Date) (float64, calendar.Date) {
	d := s.deeds
	d.begun = begins
	p := s.Planting
	if p.SetOut.Known() {
		p.SetOut = p.SetOut.Add(int(begins - p.Start))
	}
	total, years := 0.0, 0
	var firsts []calendar.Date
	j.g.each(s.track, &p, d, func(n int, c *grow.Course) {
		total += c.KgPerM2
		years++
		if !c.Failed() {
			firsts = append(firsts, j.g.splice.real(n, c.FirstPick))
		}
	})
	if years == 0 {
		return 0, calendar.None
	}
	return total / float64(years), middle(firsts)
}

func pieces(route string) string {
	switch route {
	case "sets", "autumn_sets":
		return "sets"
	case "tubers", "chitted":
		return "seed tubers"
	case "cloves":
		return "cloves"
	}
	return route
}

// spacingWords is how far apart plants stand.
func spacingWords(p *Planting, say measures) string {
	if p.Place.Kind == garden.Pots {
		return fmt.Sprintf("in pots of %g litres", p.Place.Litres)
	}
	if p.Route.InRowCM <= 0 || p.Route.BetweenRowCM <= 0 {
		return "at its spacing"
	}
	return fmt.Sprintf("%s apart in rows %s apart", say.spacing(p.Route.InRowCM), say.spacing(p.Route.BetweenRowCM))
}
