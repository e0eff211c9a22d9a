package season

import (
	"fmt"
	"math"
	"slices"

	"haulm/internal/calendar"
	"haulm/internal/diary"
	"haulm/internal/grow"
)

// grower re-grows plantings over the spliced weather.
type grower struct {
	in      *Input
	splice  *splice
	climate *grow.Climate
	tracks  map[trackKey]*grow.Track
}

// newGrower makes the spliced weather ready to grow in.
func newGrower(in *Input, s *splice) *grower {
	return &grower{in: in, splice: s, climate: grow.NewClimate(s.record, in.Catalogue.Constants), tracks: map[trackKey]*grow.Track{}}
}

type trackKey struct{ crop, class, route, cover string }

// track is the crop of a planting laid over the spliced weather.
func (g *grower) track(p *Planting) (*grow.Track, error) {
	key := trackKey{p.Crop.Key, p.Class, p.Route.Key, g.groundKey(p.Place)}
	if t, ok := g.tracks[key]; ok {
		return t, nil
	}
	ground, err := g.ground(p)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", p.Place.Name, err)
	}
	t, err := g.climate.TrackIn(p.Crop, p.Class, p.Route, ground)
	if err != nil {
		return nil, err
	}
	g.tracks[key] = t
	return t, nil
}

// grow tells what a planting has done and will do.
func (g *grower) grow(p Planting, d deeds) (Standing, error) {
	track, err := g.track(&p)
	if err != nil {
		return Standing{}, err
	}
	d = g.turn(track, &p, d)
	out := Standing{
		Planting: p, Key: p.Key, Name: p.name(), Where: p.where(g.say()), deeds: d, middle: -1, PickedKg: d.kg,
		Begun: d.begun, Up: d.up, UpSeen: d.up.Known(), Out: d.out, FirstPick: noOdds, LastPick: noOdds,
	}
	habit := g.in.Lessons.Habit(p.Crop, p.Class)
	out.Pace = g.pin(track, &p, d, habit.Pace)
	doubt := track.Doubt()
	doubt.GrowthLog *= habit.Doubt
	out.track = track.Paced(out.Pace)
	if days := d.pickedEvery(); days > 0 {
		out.track = out.track.PickedEvery(days)
	}
	out.courses = g.courses(out.track, &p, d)
	g.tellOdds(&out, doubt, habit)
	g.tellStage(&out)
	out.rest = g.rests(&out, habit.Yield)
	out.Words = out.words(g.in.Today, g.say())
	if lesson, ok := g.in.Lessons.Of(p.Crop); ok && lesson.Dates+lesson.Weights > 0 {
		out.Learnt = lesson.Says
	}
	return out, nil
}

// begins is the day on which the planting was begun, or will be if it is done
// when planned or, that being past, today.
func (g *grower) begins(p *Planting, d deeds) calendar.Date {
	if d.begun.Known() {
		return d.begun
	}
	return max(p.Start, g.in.Today)
}

// courses grows the planting through every strand.
func (g *grower) courses(track *grow.Track, p *Planting, d deeds) []scenario {
	out := make([]scenario, 0, g.splice.years())
	g.each(track, p, d, func(n int, c *grow.Course) {
		own := *c
		own.Pickings = slices.Clone(c.Pickings)
		g.toReal(&own, n)
		out = append(out, scenario{n, own})
	})
	return out
}

// each visits the planting's course in every strand, in the strand's days. The
// course is the visitor's only for the visit.
func (g *grower) each(track *grow.Track, p *Planting, d deeds, visit func(n int, c *grow.Course)) {
	begins := g.begins(p, d)
	var c grow.Course
	for n := range g.splice.years() {
		if d.newYear.Known() {
			g.old(track, p, d, n, &c)
		} else {
			setOut := g.setOut(track, p, d, begins, n, &c)
			track.CourseInto(&c, g.splice.on(n, begins), setOut)
		}
		if !c.Gap && (!c.RanOut || c.FirstPick.Known()) {
			visit(n, &c)
		}
	}
}

// setOut is the day, in a strand, on which raised plants went or will go out:
// once fit, nights being mild and no frost forecast, and not long before it was
// planned.
func (g *grower) setOut(track *grow.Track, p *Planting, d deeds, begins calendar.Date, n int, buffer *grow.Course) calendar.Date {
	const earlierDays = 7
	if !p.Route.Raised {
		return calendar.None
	}
	if d.out.Known() {
		return g.splice.on(n, d.out)
	}
	track.CourseInto(buffer, g.splice.on(n, begins), calendar.None)
	fit := buffer.SetOut
	if !fit.Known() {
		return calendar.None
	}
	earliest := max(g.in.Today, raisedBy(p, d), g.safeFrom(p))
	if p.SetOut.Known() {
		earliest = max(earliest, p.SetOut.Add(-earlierDays))
	}
	return max(fit, g.splice.on(n, earliest))
}

// raisedBy is the day before which plants that were seen to come up, or were
// pricked out, are not fit to go out; 0 where neither was noted.
func raisedBy(p *Planting, d deeds) calendar.Date {
	fit := calendar.Date(0)
	if d.up.Known() {
		fit = d.up.Add(int(rule("raise.after_up_share") * 7 * p.Route.RaiseWeeksMin))
	}
	if pricked, ok := d.last[diary.PrickedOut]; ok {
		fit = max(fit, pricked.Add(int(rule("raise.after_pricking_days"))))
	}
	return fit
}

// toReal turns a course's days into this year's.
func (g *grower) toReal(c *grow.Course, n int) {
	for _, d := range []*calendar.Date{&c.Start, &c.Emergence, &c.SetOut, &c.FirstPick, &c.LastPick, &c.Clear, &c.Mishap.Day} {
		*d = g.splice.real(n, *d)
	}
	for i := range c.Pickings {
		c.Pickings[i].Monday = g.splice.real(n, c.Pickings[i].Monday)
	}
}

// pin sets the pace so that the stages that were seen fall on the days on
// which they were seen.
func (g *grower) pin(track *grow.Track, p *Planting, d deeds, pace grow.Pace) grow.Pace {
	if d.up.Known() && d.begun.Known() && !p.Route.Raised && !d.newYear.Known() {
		pace.Emergence = match(d.up, func(factor float64) calendar.Date {
			return g.first(track, p, d, grow.Pace{Emergence: factor, Growth: pace.Growth}).Emergence
		}, pace.Emergence)
	}
	if d.firstPick.Known() && d.begun.Known() {
		pace.Growth = match(d.firstPick, func(factor float64) calendar.Date {
			return g.first(track, p, d, grow.Pace{Emergence: pace.Emergence, Growth: factor}).FirstPick
		}, pace.Growth)
	}
	return pace
}

// first is the course in the first strand: until today all strands are alike.
func (g *grower) first(track *grow.Track, p *Planting, d deeds, pace grow.Pace) grow.Course {
	paced := track.Paced(pace)
	var c grow.Course
	if d.newYear.Known() {
		g.old(paced, p, d, 0, &c)
		g.toReal(&c, 0)
		return c
	}
	setOut := g.setOut(paced, p, d, d.begun, 0, &c)
	paced.CourseInto(&c, g.splice.on(0, d.begun), setOut)
	g.toReal(&c, 0)
	return c
}

// Bounds of the pace that sightings may pin: beyond a factor of three it is
// another plant, or another seed.
const slowest, fastest = 3.0, 1 / 3.0

// match is the factor at which a stage falls on the day it was seen: the
// middle of those that do, so that no rounding tips it over; usual where none
// does.
func match(seen calendar.Date, stage func(factor float64) calendar.Date, usual float64) float64 {
	if day := stage(fastest); !day.Known() || day > seen {
		return usual
	}
	return math.Sqrt(lastBy(seen, stage) * lastBy(seen.Add(-1), stage))
}

// lastBy is the slowest pace at which a stage comes by a day.
func lastBy(by calendar.Date, stage func(factor float64) calendar.Date) float64 {
	low, high := fastest, slowest
	reached := func(factor float64) bool { day := stage(factor); return day.Known() && day <= by }
	if !reached(low) {
		return low
	}
	if reached(high) {
		return high
	}
	for range 16 {
		middle := math.Sqrt(low * high)
		if reached(middle) {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}

// tellOdds fills in days and weights with their odds, over the weather years and
// over what the book leaves in doubt.
func (g *grower) tellOdds(out *Standing, doubt grow.Doubt, habit Habit) {
	out.middle = middleOf(out.courses)
	all := g.outlooks(out, doubt, habit.Yield)
	ahead := g.notYet(out, all)
	out.Success = chanceOf(ahead)
	out.FirstPick = oddsOf(column(ahead, firstOf))
	out.LastPick = oddsOf(column(ahead, lastOf))
	out.weightLogSD = g.weightLogSD(out.Crop)
	out.tellWeight(all, ahead)
	if day := out.deeds.firstPick; day.Known() {
		out.FirstPick = Odds{day, day, day}
	}
	if out.FirstPick.P50.Known() && out.Planned.P50.Known() {
		out.Later, out.LaterOK = int(out.FirstPick.P50-out.Planned.P50), true
	}
	if !out.UpSeen && !out.Route.Raised {
		out.Up = middleDay(out.courses, func(c *grow.Course) calendar.Date { return c.Emergence })
	}
	if !out.Out.Known() && out.Route.Raised {
		out.Out = middleDay(out.courses, func(c *grow.Course) calendar.Date { return c.SetOut })
	}
}

func dayNumber(d calendar.Date) float64 {
	if !d.Known() {
		return math.Inf(1)
	}
	return float64(d)
}

// oddsOf are the odds of days, of which +Inf never come. Days are whole: the
// middle eight of ten are those from P10 to P90 with both, so that one in ten
// lies before P10 and one after P90. A day taken as its whole length would put
// half a day too much at either end.
func oddsOf(days []float64) Odds {
	const halfDay = 0.5
	q := func(share, inward float64) calendar.Date {
		d := grow.Quantile(days, share)
		if math.IsInf(d, 0) || math.IsNaN(d) {
			return calendar.None
		}
		return calendar.Date(math.Round(d + inward))
	}
	odds := Odds{q(0.1, halfDay), q(0.5, 0), q(0.9, -halfDay)}
	if odds.P50.Known() {
		odds.P10 = min(odds.P10, odds.P50)
	}
	if odds.P90.Known() {
		odds.P90 = max(odds.P90, odds.P50)
	}
	return odds
}

// middleDay is a stage's middling day over the courses that reach it.
func middleDay(courses []scenario, stage func(*grow.Course) calendar.Date) calendar.Date {
	var days []calendar.Date
	for i := range courses {
		if d := stage(&courses[i].course); d.Known() {
			days = append(days, d)
		}
	}
	return middle(days)
}

// middle sorts days and gives the middling one; None of none.
func middle(days []calendar.Date) calendar.Date {
	if len(days) == 0 {
		return calendar.None
	}
	slices.Sort(days)
	return days[len(days)/2]
}

// middleOf is the course with the middling first picking, -1 where none gives.
func middleOf(courses []scenario) int {
	var made []int
	for i := range courses {
		if !courses[i].course.Failed() {
			made = append(made, i)
		}
	}
	if len(made) == 0 {
		return -1
	}
	slices.SortStableFunc(made, func(a, b int) int { return int(courses[a].course.FirstPick - courses[b].course.FirstPick) })
	return made[len(made)/2]
}
