package grow

import (
	"math"

	"haulm/internal/calendar"
	"haulm/internal/crop"
)

// Track is one crop, class, route and ground laid over a Climate, ready to grow
// from any day. It only reads, so goroutines may share it.
type Track struct {
	climate *Climate
	recipe  recipe

	soil, warmth, rot sums
	heat, pace        sums
	set               sums
	hot               next
	frost             [stages + 1]next // the last: of a plant at rest
	chill             []int8
	gateDays          next
	boltDays          next
	mildNights        next
	standstill        next
	air               air
	wet               wet
	cool              sums
}

// Track makes ready the tables that the courses of one crop read, in watered
// ground under a cover.
func (c *Climate) Track(cr *crop.Crop, class string, route *crop.Route, cover crop.Cover) (*Track, error) {
	return c.TrackIn(cr, class, route, Ground{Cover: cover})
}

// TrackIn is Track for any ground: rain-fed, of a texture, in a pot.
func (c *Climate) TrackIn(cr *crop.Crop, class string, route *crop.Route, ground Ground) (*Track, error) {
	cover := ground.Cover
	r, err := newRecipe(cr, class, route, ground, c.longestH, c.rules)
	if err != nil {
		return nil, err
	}
	t := &Track{climate: c, recipe: r}
	t.soil = c.soilTable(r.emerge, cover)
	t.warmth = c.soilTable(soilKey{plainSumC, math.Inf(1), cover.Key}, cover)
	t.rot = c.rotTable(r.rotBelowC, cover)
	t.heat = c.heatTable(r.heat, cover)
	t.pace = c.paceTable(r.pace, cover)
	for s := range stages {
		t.frost[s] = c.frostTable(r.frost[s], cover)
	}
	t.frost[stages] = c.frostTable(r.atRest(), cover)
	t.addWanted(ground)
	return t, nil
}

// addWanted makes ready the tables that only some crops and grounds call for.
func (t *Track) addWanted(ground Ground) {
	c, r, cover := t.climate, &t.recipe, ground.Cover
	if r.bolt.ColdDays > 0 {
		t.chill = c.chillTable(r.chill, cover)
	}
	if r.bolt.LongDayH > 0 {
		t.boltDays = c.longDays(r.bolt.LongDayH)
	}
	switch r.gate.kind {
	case bulbGate:
		t.gateDays = c.longDays(r.gate.hours)
	case tuberGate:
		t.gateDays = c.shortDays(r.gate.hours)
	}
	if r.thirst.rainFed || r.thirst.potted {
		t.air = c.airFor(ground)
	}
	if r.thirst.rainFed {
		t.wet = c.wetFor(&r.thirst, ground)
	}
	if r.set.maxC > 0 || r.set.minC > 0 {
		t.set = c.setTable(r.set, cover)
	}
	if r.warm.BoltsMeanC > 0 {
		t.hot = c.hotTable(hotKey{r.warm.BoltsMeanC, int(r.warm.BoltsDays), cover.Key}, cover)
	}
	if r.small {
		t.standstill = c.shortDays(c.rules.StandstillBelowH)
	}
	if r.standing.restDays > 0 {
		t.cool = c.coolTable(r.standing.belowC, cover)
	}
	if r.raised {
		t.mildNights = c.mildTable(r.holdAboveC, cover)
	}
}

// plainSumC is a base low enough that a "heat" sum is a plain sum of
// temperatures, shifted: means come from it by subtraction.
const plainSumC = -100.0

// run is one course on its way, in day indexes.
type run struct {
	*Track
	start, setOut int
	emerged       int // index of emergence; -1 while unknown or indoors unseen
	outside       int // first day that weather can hurt the plant
	from          int // first day of thermal time
	credit        float64
	owed          float64 // thermal time lost to frost
	cut           int     // day of the last frost that cut it back
	limit         int     // day after which it is no longer waited for
	bolted        int     // day from which it is no longer fit to pick, once develop has passed
	first, last   int
	part          float64 // share of the full yield
	mishap        Mishap
	drinking      drinking
	unhurtKg      float64 // picked so far, had there been no drought
	allSetKg      float64 // … and had every flower set
}

// Course grows one planting. setOut is the day raised plants went out, or
// None to wait until they are fit and nights are mild.
func (t *Track) Course(start, setOut calendar.Date) Course {
	course := Course{}
	t.CourseInto(&course, start, setOut)
	return course
}

// CourseInto is Course into a buffer, whose Pickings are used again.
func (t *Track) CourseInto(out *Course, start, setOut calendar.Date) {
	if t.recipe.standing.fromNew {
		t.firstFair(out, start)
		return
	}
	r := t.begin(out, start)
	if r.start < 0 || r.start >= t.days() {
		out.RanOut = true
		return
	}
	r.limit = r.start + int(t.climate.rules.LongestCourseDays)
	r.setOut = -1
	if setOut.Known() && t.recipe.raised {
		r.setOut = max(r.start, int(setOut-t.climate.start))
	}
	r.grow(out)
}

// begin is a course before its first day, out being emptied for it.
func (t *Track) begin(out *Course, start calendar.Date) run {
	out.reset(start)
	r := run{Track: t, start: int(start - t.climate.start), emerged: -1, first: -1, last: -1, part: 1}
	r.mishap.Day = calendar.None
	return r
}

func (t *Track) days() int { return len(t.climate.minC) }

// grow runs the stages in order and stops at the first that is not reached.
func (r *run) grow(out *Course) {
	defer r.report(out)
	if !r.establish() {
		return
	}
	if !r.develop() {
		return
	}
	r.pick(out)
}

// report writes what is known into the Course.
func (r *run) report(out *Course) {
	n := r.days()
	out.Mishap = r.mishap
	if r.emerged >= 0 && r.emerged < n {
		out.Emergence = r.climate.date(r.emerged)
	}
	if r.recipe.raised && r.setOut >= 0 && r.setOut < n {
		out.SetOut = r.climate.date(r.setOut)
	}
	end := min(n, max(r.start, r.emerged, r.setOut, r.first, r.last))
	if r.climate.gaps[end] != r.climate.gaps[r.start] {
		out.reset(out.Start)
		out.RanOut, out.Gap = true, true
	} else if r.first < 0 && !r.mishap.Lost {
		out.RanOut = true
	}
}

// lose ends the course with nothing.
func (r *run) lose(kind MishapKind, day int) bool {
	r.mishap = Mishap{Kind: kind, Day: r.climate.date(min(day, r.days()-1)), Lost: true}
	r.last = min(day, r.days())
	return false
}

// Pace is the mean share of a fair growing day over some days from from on;
// 0 where they are not on record.
func (t *Track) Pace(from calendar.Date, days int) float64 {
	a := int(from - t.climate.start)
	if a < 0 || a+days > t.days() || days < 1 {
		return 0
	}
	return (t.heat[a+days] - t.heat[a]) / (float64(days) * t.climate.fairHeat(t.recipe.heat))
}

// TooDark says whether growth stands still for want of daylight on a day.
func (t *Track) TooDark(day calendar.Date) bool {
	i := int(day - t.climate.start)
	return i >= 0 && i < t.days() && t.climate.dayH[i] < t.climate.rules.StandstillBelowH
}
