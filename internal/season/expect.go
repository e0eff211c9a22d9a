package season

import (
	"math"

	"haulm/internal/calendar"
	"haulm/internal/grow"
	"haulm/internal/kitchen"
)

// Expected is what a planting of the plan is to do if all goes as planned: 8
// times in 10 it lies within these spans, over the weather years and over what
// the book leaves in doubt.
type Expected struct {
	FirstPick    Odds
	KindsLeftOut bool // FirstPick is over the weather years alone

	LowKg, HighKg             float64
	LowPortions, HighPortions float64
}

// Expect tells what a planting of the plan is to do. courses are those that the
// plan grew of it, one a weather year, by the garden's own pace and yield. Of
// the input it needs garden, catalogue and lessons.
func Expect(in Input, climate *grow.Climate, p Planting, courses []grow.Course) (Expected, error) {
	g := &grower{in: &in, climate: climate, tracks: map[trackKey]*grow.Track{}}
	track, err := g.track(&p)
	if err != nil {
		return Expected{}, err
	}
	out := Expected{FirstPick: p.Planned, KindsLeftOut: p.Stands && p.Crop.Perennial}
	ahead := plannedOutlooks(&p, courses)
	if !out.KindsLeftOut {
		ahead = append(ahead, g.otherKinds(track, &p, courses)...)
		out.FirstPick = oddsOf(column(ahead, firstOf))
	}
	out.LowKg, out.HighKg = weightSpan(column(ahead, kgOf), g.weightLogSD(p.Crop))
	if perKg, err := kitchen.PortionsPerKg(p.Crop.Portion); err == nil {
		out.LowPortions, out.HighPortions = out.LowKg*perKg, out.HighKg*perKg
	}
	return out, nil
}

// plannedOutlooks are the plan's own courses.
func plannedOutlooks(p *Planting, courses []grow.Course) []outlook {
	out := make([]outlook, len(courses))
	for i := range courses {
		out[i] = plannedOutlook(p, &courses[i], 1)
	}
	return out
}

// plannedOutlook moves a course to the days of the plan.
func plannedOutlook(p *Planting, c *grow.Course, yield float64) outlook {
	if c.Failed() {
		return outlook{first: math.Inf(1), last: math.Inf(1)}
	}
	onPlan := func(d calendar.Date) float64 { return dayNumber(p.Start.Add(int(d - c.Start))) }
	return outlook{first: onPlan(c.FirstPick), last: onPlan(c.LastPick), kg: c.KgPerM2 * p.ScaleM2 * yield}
}

// otherKinds grows a planting through the plan's weather years at the paces
// that stand for the doubt about its kind.
func (g *grower) otherKinds(track *grow.Track, p *Planting, courses []grow.Course) []outlook {
	habit := g.in.Lessons.Habit(p.Crop, p.Class)
	doubt := track.Doubt()
	doubt.GrowthLog *= habit.Doubt
	var out []outlook
	var c grow.Course
	for _, z := range grow.Fifths() {
		if z == 0 {
			continue // the plan's own
		}
		paced := track.Paced(habit.Pace).Paced(doubt.At(z))
		for i := range courses {
			start, setOut := courses[i].Start, calendar.None
			if p.SetOut.Known() {
				setOut = start.Add(int(p.SetOut - p.Start))
			}
			paced.CourseInto(&c, start, setOut)
			if !c.Gap && (!c.RanOut || c.FirstPick.Known()) {
				out = append(out, plannedOutlook(p, &c, habit.Yield))
			}
		}
	}
	return out
}
