package grow

import (
	"haulm/internal/calendar"
	"haulm/internal/crop"
)

// A perennial stands for years. The year of its planting gives nothing or
// little; in each year after, it rests through the cold, comes away with the
// warmth counted from the new year, is picked for its span and left to grow.

// standingPlant is what a perennial does in the years after it was planted.
type standingPlant struct {
	cDay      float64 // from the new year to first picking
	restDays  float64
	belowC    float64
	fromNew   bool // it gives nothing in the year of its planting, and is counted from new years
	firstYear int  // season after that of planting, of the first fair crop; 0 = no perennial
}

func newStanding(cr *crop.Crop, class crop.Class) standingPlant {
	if !cr.Perennial {
		return standingPlant{}
	}
	s := standingPlant{cDay: cr.Growth.StandingCDay, restDays: cr.Growth.RestDays, belowC: cr.Growth.RestBelowC, firstYear: cr.FirstCropYear, fromNew: cr.Growth.From == crop.FromNewYear}
	if s.cDay == 0 {
		s.cDay = class.ToFirstPickCDay
	}
	return s
}

// atRest is what kills a plant that rests below ground.
func (r *recipe) atRest() frostKey {
	key := r.frost[young]
	key.killC = min(key.killC, key.winterKillC)
	return key
}

// bears is the share of a full crop in a season after that of planting.
func (s standingPlant) bears(season int, firstShare float64) float64 {
	switch {
	case season < 1 || season < s.firstYear-1:
		return 0
	case season < s.firstYear:
		return firstShare
	}
	return 1
}

// RestSearchDays is how long before the new year winter's rest may begin: an
// established perennial wants the weather of those days.
const RestSearchDays = 90

// NewYear is the day from which a perennial's year is counted: the first of
// January, or in the south of July.
func (c *Climate) NewYear(year int) calendar.Date { return calendar.SeasonStart(year, c.south) }

// Established grows a perennial through the season that begins on a new year
// (see Climate.NewYear), so many seasons after the one in which it was planted.
// The course starts on the new year and is clear when the picking ends, though
// the plant stays. For crops of one year it is lost.
func (t *Track) Established(newYear calendar.Date, season int) Course {
	var out Course
	t.EstablishedInto(&out, newYear, season)
	return out
}

// EstablishedInto is Established into a buffer, whose Pickings are used again.
func (t *Track) EstablishedInto(out *Course, newYear calendar.Date, season int) {
	old := *t
	old.recipe.raised, old.recipe.small, old.recipe.gate, old.recipe.bolt = false, false, gate{}, crop.Bolting{}
	old.recipe.targetCDay = t.recipe.standing.cDay
	old.chill, old.hot = nil, nil
	old.frost[young] = t.frost[stages] // it has not come up yet
	r := old.begin(out, newYear)
	if r.start < 0 || r.start >= r.days() {
		out.RanOut = true
		return
	}
	defer r.report(out)
	r.from, r.outside, r.limit = r.start, r.start, r.start+yearDays
	r.part = r.recipe.standing.bears(season, r.climate.rules.PerennialFirstShare)
	if r.part == 0 {
		r.lose(TooYoung, r.start)
		return
	}
	if r.rest() && r.develop() {
		r.pick(out)
	}
}

const yearDays = 365

// firstFair is the course of a perennial planted on a day: its first fair
// crop, one to three seasons on.
func (t *Track) firstFair(out *Course, start calendar.Date) {
	fair := t.recipe.standing.firstYear
	t.EstablishedInto(out, t.climate.NewYear(calendar.SeasonYear(start, t.climate.south)+fair), fair)
	out.Start = start
}

// rest keeps the plant from coming away until it has had its winter.
func (r *run) rest() bool {
	if r.recipe.standing.restDays <= 0 {
		return true
	}
	rested := r.cool.reach(max(0, r.start-RestSearchDays), r.recipe.standing.restDays)
	r.from = max(r.from, min(rested, r.days()))
	if r.from > r.limit && r.limit < r.days() {
		return r.lose(NoRest, r.start)
	}
	return r.from < r.days()
}

// GrowEstablished grows a perennial that bears fully through every season from
// first to last (years of its new year, both included).
func (t *Track) GrowEstablished(first, last int) Spread {
	var spread Spread
	for year := first; year <= last; year++ {
		newYear := t.climate.NewYear(year)
		if newYear < t.climate.Start() || newYear >= t.climate.End() {
			continue
		}
		spread.add(t.Established(newYear, max(1, t.recipe.standing.firstYear)))
	}
	return spread
}
