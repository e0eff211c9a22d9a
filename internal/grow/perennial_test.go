package grow

import (
	"testing"

	"haulm/internal/calendar"
)

// growEstablishedPlainly is the day-by-day twin of Established.
func growEstablishedPlainly(c *Climate, r recipe, a air, newYear calendar.Date, season int) Course {
	s := r.standing
	r.raised, r.small, r.gate, r.targetCDay = false, false, gate{}, s.cDay
	r.bolt.ColdDays, r.bolt.ByLongDayAlone, r.bolt.WantedForCrop, r.warm.BoltsMeanC = 0, false, false, 0
	r.frost[young] = r.atRest()
	p := &plain{Climate: c, recipe: r, air: a, n: len(c.minC), start: int(newYear - c.start), setOut: -1, emerged: -1, first: -1, last: -1, part: 1}
	p.mishap.Day = calendar.None
	out := nothing(newYear)
	if p.start < 0 || p.start >= p.n {
		out.RanOut = true
		return out
	}
	p.from, p.outside, p.limit = p.start, p.start, p.start+365
	switch {
	case season < 1 || season < s.firstYear-1:
		p.lose(TooYoung, p.start)
		return p.told(out)
	case season < s.firstYear:
		p.part = p.rules.PerennialFirstShare
	}
	had := 0.0
	for day := max(0, p.start-90); s.restDays > 0 && had < s.restDays; day++ {
		if day >= p.n {
			p.from = p.n
			break
		}
		had += count(p.coolOn(day, s.belowC, p.cover))
		p.from = max(p.start, day+1)
	}
	switch {
	case p.from > p.limit && p.limit < p.n:
		p.lose(NoRest, p.start)
	case p.from < p.n && p.develop():
		p.harvest(&out)
	}
	return p.told(out)
}

// Every perennial by every route in every ground through every season tells
// the same as its day-by-day twin.
func TestEstablishedPlantsMatchTheDayByDayTwin(t *testing.T) {
	catalogue := loadCatalogue(t)
	climate := builtInClimate(t, catalogue)
	for _, cr := range catalogue.Crops() {
		if !cr.Perennial {
			continue
		}
		for i := range cr.Routes {
			for _, ground := range groundsOf(t, open(t, catalogue), &cr.Routes[i]) {
				track, err := climate.TrackIn(cr, "mid", &cr.Routes[i], ground)
				if err != nil {
					t.Fatal(err)
				}
				for year := climate.Start().Year(); year <= climate.End().Year(); year++ {
					for season := range 5 {
						day := climate.NewYear(year)
						same(t, cr.Key, track.Established(day, season), growEstablishedPlainly(climate, track.recipe, track.air, day, season))
					}
				}
			}
		}
	}
}

// In a mild maritime climate old plants are picked when growers pick them
// (common practice), those just planted not at all, and the year before the
// first fair crop gives a little.
func TestPerennialsComeInTheirSeason(t *testing.T) {
	catalogue := loadCatalogue(t)
	climate := builtInClimate(t, catalogue)
	for _, c := range []struct{ key, from, to string }{
		{"rhubarb", "03-10", "05-05"}, {"asparagus", "04-05", "05-15"}, {"strawberry", "05-25", "07-05"},
		{"chives", "03-10", "05-01"}, {"globe_artichoke", "05-20", "07-10"},
	} {
		cr := catalogue.Crop(c.key)
		track, err := climate.Track(cr, "mid", cr.UsualRoute(), open(t, catalogue))
		if err != nil {
			t.Fatal(err)
		}
		spread := track.GrowEstablished(climate.Start().Year(), climate.End().Year())
		if lost, by := spread.Lost(); lost*10 > len(spread.Courses) {
			t.Errorf("%s: lost in %d of %d years: %v", c.key, lost, len(spread.Courses), by)
		}
		from, _ := calendar.ParseMonthDay(c.from)
		to, _ := calendar.ParseMonthDay(c.to)
		middle := calendar.On(2001, 1, 1).Add(spread.FirstPick().P50)
		if middle < from.In(2001) || middle > to.In(2001) {
			t.Errorf("%s: first picked %s in the middle year, growers say %s to %s", c.key, middle.Format("2 January"), c.from, c.to)
		}
		newYear := climate.NewYear(climate.Start().Year() + 3)
		first, full := cr.FirstCropYear, track.Established(newYear, cr.FirstCropYear).KgPerM2
		if planted := track.Established(newYear, 0); planted.Mishap.Kind != TooYoung || planted.KgPerM2 != 0 {
			t.Errorf("%s: the year of planting gives %g kg (%v)", c.key, planted.KgPerM2, planted.Mishap)
		}
		if first > 1 {
			if light := track.Established(newYear, first-1).KgPerM2; light <= 0 || light >= full {
				t.Errorf("%s: %g kg in season %d and %g in the next", c.key, light, first-1, full)
			}
		}
		if old := track.Established(newYear, 9).KgPerM2; old != full {
			t.Errorf("%s: %g kg in its first fair season, %g in the ninth", c.key, full, old)
		}
	}
}

// Where winter brings no cold, rhubarb never comes away as it should.
func TestRhubarbWantsItsWinter(t *testing.T) {
	catalogue := loadCatalogue(t)
	climate := steadyClimate(5, 20, 29, catalogue.Constants)
	cr := catalogue.Crop("rhubarb")
	track, err := climate.Track(cr, "mid", cr.UsualRoute(), open(t, catalogue))
	if err != nil {
		t.Fatal(err)
	}
	if c := track.Established(climate.NewYear(2002), 5); !c.Failed() || c.Mishap.Kind != NoRest {
		t.Errorf("rhubarb in the lowland tropics: %+v", c)
	}
}
