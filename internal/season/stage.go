package season

import (
	"math"

	"haulm/internal/calendar"
	"haulm/internal/grow"
)

// tellStage says how far a planting has come this morning.
func (g *grower) tellStage(s *Standing) {
	today, d := g.in.Today, &s.deeds
	s.Share = g.share(s, today)
	switch {
	case d.lost:
		s.Stage = LostAll
	case d.cleared.Known():
		s.Stage = Cleared
	case !d.begun.Known():
		s.Stage = Waiting
	case s.Route.Raised && !d.out.Known():
		s.Stage = Raising
	case d.firstPick.Known() || s.FirstPick.P50.Known() && today >= s.FirstPick.P50:
		s.Stage = Picking
		if s.isOver(today) {
			s.Stage = Over
		}
	case s.flowers():
		s.Stage = Flowering
	case !d.newYear.Known() && !s.Route.Raised && (!s.Up.Known() || s.Up > today):
		s.Stage = Sown
	default:
		s.Stage = g.leafStage(s)
	}
}

// flowers says whether the gardener saw it flower, and it is a crop that
// fruits: of any other, flowers mean that it has run to seed, which is no stage
// on the way to a crop.
func (s *Standing) flowers() bool { return s.deeds.flowered.Known() && s.Crop.Fruits() }

// leafStage is the stage of what stands up and is not picked yet; the last of
// them goes by what is taken of the crop.
func (g *grower) leafStage(s *Standing) Stage {
	rules := g.in.Catalogue.Constants
	switch {
	case s.Share < rules.YoungUntilShare:
		return Young
	case s.Share < rules.GrowingUntilShare:
		return Growing
	case s.Crop.Fruits():
		return Flowering
	case s.Crop.Swells():
		return Swelling
	}
	return NearlyGrown
}

// takenOnce says whether the crop is taken in one go.
func (s *Standing) takenOnce() bool { return s.Crop.Picking.Pattern == "single" }

// waits says whether it is taken once and was not yet: it waits where it stands.
func (s *Standing) waits() bool { return s.takenOnce() && !s.deeds.firstPick.Known() }

// isOver says whether the picking has ended in most years and nothing was
// picked of late. What is taken once and was not is told to be taken for a
// while yet.
func (s *Standing) isOver(today calendar.Date) bool {
	const lately, overdue = 14, 30
	d := s.deeds.lastPick
	switch {
	case d.Known() && today-d < lately || !s.LastPick.P90.Known():
		return false
	case s.takenOnce() && !d.Known():
		return today > s.LastPick.P90.Add(overdue)
	}
	return today > s.LastPick.P90
}

// grewFrom is the day from which thermal time counts in a course: out of
// doors or up.
func grewFrom(c *grow.Course) calendar.Date {
	if c.SetOut.Known() {
		return c.SetOut
	}
	return c.Emergence
}

// share is how much of the thermal time from coming up or setting out to the
// first picking is done on a day, 0 to 1.
func (g *grower) share(s *Standing, day calendar.Date) float64 {
	if s.middle < 0 {
		return 0
	}
	sc := &s.courses[s.middle]
	from, first := grewFrom(&sc.course), sc.course.FirstPick
	if s.deeds.firstPick.Known() {
		first = s.deeds.firstPick
	}
	switch {
	case !from.Known() || day <= from:
		return 0
	case day >= first:
		return 1
	}
	return heatShare(s.track, g.splice.on(sc.year, from), int(day-from), int(first-from))
}

// heatShare is the heat of the first days over that of the whole run; by plain
// days where there is no heat.
func heatShare(t *grow.Track, from calendar.Date, days, whole int) float64 {
	all := t.Pace(from, whole) * float64(whole)
	if all <= 0 {
		return math.Min(1, float64(days)/float64(max(1, whole)))
	}
	return math.Min(1, t.Pace(from, days)*float64(days)/all)
}

// coldStage is the stage by which the catalogue tells frost damage.
func (s *Standing) coldStage() string {
	if s.deeds.newYear.Known() && s.Stage != Picking && !s.flowers() {
		return "wintering" // it rests below ground
	}
	switch s.Stage {
	case Young:
		return "young"
	case Growing, Swelling, NearlyGrown:
		return "growing"
	case Flowering:
		return "flowering"
	}
	return "standing"
}

// inGround says whether the planting stands out of doors and alive.
func (s *Standing) inGround() bool {
	switch s.Stage {
	case Young, Growing, Flowering, Swelling, NearlyGrown, Picking:
		return true
	}
	return false
}

// groundFrom is the day it took its ground.
func (s *Standing) groundFrom() calendar.Date { return s.deeds.groundFrom(&s.Planting) }
