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
	if until < j.g.in.Today || tooLate(s, value, j.g.in.Today) {
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
		cells := math.Ceil(float64(s.Plants) * s.Route.CellsPerPlant)
		amount = fmt.Sprintf("%d seeds for %d plants (nine times in ten enough), %s, room of %.0f cells", s.Seeds, s.Plants, s.Route.Name, cells)
	default:
		amount = fmt.Sprintf("%d seeds for %d plants, %s deep, %s", s.Seeds, s.Plants, say.spacing(s.Route.SowDepthCM), spacingWords(&s.Planting, say))
	}
	why := fmt.Sprintf("begun now it is first picked %s", between(s.FirstPick))
	if !s.FirstPick.P50.Known() {
		why = fmt.Sprintf("begun now it gives in %.0f of 10 years", 10*s.Success)
	}
	cost := weekWords(weekCost, weekLater)
	if until == j.g.in.Today {
		cost = fmt.Sprintf("now or never: left, it costs about %.0f portions", value)
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

// tooLate says that a beginning is past its day and that a middling year would bring
// next to nothing of it now.
func tooLate(s *Standing, value float64, today calendar.Date) bool {
	return s.Start < today && value < rule("job.late_worth_portions")
}

func weekWords(portions float64, later int) string {
	cost := "a week later costs next to nothing"
	if portions >= 0.5 {
		cost = fmt.Sprintf("a week later costs about %s", portionWords(portions))
	}
	if later > 0 {
		cost += fmt.Sprintf(" and puts the first picking %s back", dayWords(later))
	}
	return cost
}

func portionWords(n float64) string {
	if n < 1.5 {
		return "a portion"
	}
	return fmt.Sprintf("%.0f portions", n)
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

// setOut is the hardening and the setting out of raised plants.
func (j *jobber) setOut(s *Standing) {
	if s.Stage != Raising || !s.Out.Known() {
		return
	}
	hold := int(j.g.in.Catalogue.Constants.HoldDays)
	due := max(s.Out, j.g.in.Today)
	until := max(due, s.Out.Add(hold))
	j.add(s, Job{
		Kind: "set out", Title: "Plant out " + s.name(), TicksOff: diary.Planted,
		Amount:  fmt.Sprintf("%d plants, %s", s.Plants, spacingWords(&s.Planting, j.g.say())),
		Minutes: s.Crop.Labour.SetOutPerM2 * s.AreaM2,
		Why:     fmt.Sprintf("sown %s, fit to go out and nights are mild by %s in half the years; water them in", s.Begun.Format("2 January"), s.Out.Format("2 January")),
		Since:   s.Out, Due: due, Until: until, Cost: portions(s), Cautions: actCautions(s, "plant"),
		CostSays: fmt.Sprintf("plants held beyond %s are pot-bound; the crop is worth about %.0f portions", until.Format("2 January"), portions(s)),
	})
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
