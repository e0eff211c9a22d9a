package cropping

import (
	"math"

	"haulm/internal/ground"
	"haulm/internal/grow"
	"haulm/internal/plan"
)

type planCandidate = plan.Candidate

// number fills in what the planner sees of a choice. It reports false for one
// that gives nothing within the plan.
func (l *Lay) number(c *choice) bool {
	end := l.clearWeek(c)
	n := &c.numbers
	*n = plan.Candidate{
		Crop: l.dishIndex[c.crop.Dish], Route: c.crop.Key + " " + c.route.Key, Start: c.outWeek, End: end,
		MinStrips: l.leastStrips(c), Cost: c.route.CostPerPlant * c.plantsPerStrip, LabourAt: c.sowWeek,
		Kinds: 1 << uint(c.kind),
	}
	n.Yield = make([]plan.Yield, len(c.courses))
	grams := make([]float64, l.rules.weeks())
	total := 0.0
	for y := range c.courses {
		n.Yield[y] = l.yield(c, y, end)
		for i, g := range n.Yield[y].Grams {
			grams[n.Yield[y].First+i] += float64(g) / float64(len(c.courses))
			total += float64(g)
		}
	}
	if total == 0 || n.MinStrips == 0 {
		return false
	}
	n.Labour = l.labour(c, end, grams)
	if c.route.Raised && c.outWeek > c.sowWeek {
		cells := c.plantsPerStrip * c.route.CellsPerPlant
		n.Tray = plan.Tray{From: c.sowWeek, To: c.outWeek, Hundredths: int(math.Ceil(100 * cells / cellsPerTray))}
	}
	return true
}

// cellsPerTray is the 40-cell tray in which the garden counts indoor space.
const cellsPerTray = 40

// clearWeek is the week by which the ground is free in most of the years.
func (l *Lay) clearWeek(c *choice) int {
	if c.cut {
		return min(max(c.until, c.outWeek+1), l.rules.weeks())
	}
	var weeks []float64
	for y := range c.courses {
		if clear := c.courses[y].Clear; clear.Known() && !c.courses[y].Failed() {
			weeks = append(weeks, float64(l.week(y, clear-1)+1))
		} else if !c.courses[y].Failed() {
			weeks = append(weeks, float64(l.rules.weeks()))
		}
	}
	end := int(math.Ceil(grow.Quantile(weeks, l.rules.ClearShare)))
	return min(max(end, c.outWeek+1), l.rules.weeks())
}

// leastStrips is the shortest planting that makes one whole row in any bed of
// the kind; 0 where none is long enough.
func (l *Lay) leastStrips(c *choice) int {
	least := 0
	for i := range l.beds {
		if l.beds[i].numbers.Kind == c.kind {
			least = max(least, ground.MinStrips(l.beds[i].place, ground.SpacingOf(c.route)))
		}
	}
	return least
}

// yield is what one strip gives in one year, in grams by weeks of the plan.
func (l *Lay) yield(c *choice, y, end int) plan.Yield {
	course := &c.courses[y]
	if course.Failed() {
		return plan.Yield{}
	}
	perStrip := 1000 * c.plantsPerStrip / c.route.PlantsPerM2 * l.rules.handShare(l.question.Garden.Household.Experience)
	return l.weekly(course, y, perStrip, c.outWeek, end)
}

// weekly spreads a course's pickings over the weeks from first up to end.
func (l *Lay) weekly(course *grow.Course, y int, gramsPerKgM2 float64, first, end int) plan.Yield {
	var out plan.Yield
	for _, p := range course.Pickings {
		week := l.week(y, p.Monday)
		if week < first || week >= end {
			continue
		}
		grams := int32(math.Round(p.KgPerM2 * gramsPerKgM2))
		if len(out.Grams) == 0 {
			out.First = week
		}
		for len(out.Grams) < week-out.First {
			out.Grams = append(out.Grams, 0) // perennials rest between their seasons
		}
		out.Grams = append(out.Grams, grams)
	}
	for len(out.Grams) > 0 && out.Grams[len(out.Grams)-1] == 0 {
		out.Grams = out.Grams[:len(out.Grams)-1]
	}
	return out
}

// labour is the work on one strip, week by week from sowing, in tenths of a
// minute; grams is the mean picking by weeks of the plan.
func (l *Lay) labour(c *choice, end int, grams []float64) []int32 {
	minutes := make([]float64, end-c.sowWeek)
	m2 := c.plantsPerStrip / c.route.PlantsPerM2
	work := c.crop.Labour
	out := c.outWeek - c.sowWeek
	if c.route.Raised {
		minutes[0] += work.RaisePerM2 * m2
		minutes[out] += work.SetOutPerM2 * m2
	} else {
		minutes[0] += work.SowPerM2 * m2
	}
	tend := (work.TendPerM2W - l.savedCans(c)) * m2
	for week := c.outWeek; week < end; week++ {
		minutes[week-c.sowWeek] += tend + work.PickPerKg*grams[week]/1000
	}
	l.waterPots(c, minutes)
	minutes[len(minutes)-1] += work.ClearPerM2 * m2
	tenths := make([]int32, len(minutes))
	for i, m := range minutes {
		tenths[i] = int32(math.Round(10 * m))
	}
	return tenths
}

// seeds is how many to sow for the plants wanted.
func (l *Lay) seeds(c *choice, plants int) int {
	return ground.Seeds(c.crop, c.route, plants, l.question.Catalogue.Constants.FieldFactor)
}
