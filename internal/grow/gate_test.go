package grow

import (
	"testing"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/sun"
	"haulm/internal/weather"
)

// steadyClimate is five years of one warm day at a latitude.
func steadyClimate(latDeg, lowC, highC float64, rules crop.Constants) *Climate {
	rec := &weather.Record{Start: calendar.On(2001, 1, 1), Site: weather.Site{LatDeg: latDeg}}
	for range 5 * 365 {
		rec.TminC, rec.TmaxC, rec.RainMM = append(rec.TminC, lowC), append(rec.TmaxC, highC), append(rec.RainMM, 3)
		rec.SunMJ = append(rec.SunMJ, 15)
	}
	return NewClimate(rec, rules)
}

// Tubers of short-day plants are not filled before the days are short enough,
// however early they are planted; under equal days they only take their heat.
func TestShortDayTubersWaitForAutumn_EcoCrop(t *testing.T) {
	catalogue := loadCatalogue(t)
	for _, c := range []struct {
		key     string
		opens   time.Month // at 53 degrees north: the month in which the gate opens
		opensOn int
	}{{"oca", 9, 22}, {"jerusalem_artichoke", 8, 31}} {
		cr := catalogue.Crop(c.key)
		north := steadyClimate(53, 10, 20, catalogue.Constants)
		track, err := north.Track(cr, "mid", cr.UsualRoute(), open(t, catalogue))
		if err != nil {
			t.Fatal(err)
		}
		gate := calendar.On(2002, c.opens, c.opensOn)
		for _, start := range []calendar.Date{calendar.On(2002, 1, 10), calendar.On(2002, 2, 20), calendar.On(2002, 3, 31)} {
			course := track.Course(start, calendar.None)
			if course.Failed() || course.FirstPick < gate.Add(10) || course.FirstPick > gate.Add(90) {
				t.Errorf("%s planted %s is lifted %s; tubers begin about %s", c.key, start, course.FirstPick, gate)
			}
		}
		if hours := sun.DayLengthH(53, gate.YearDay()); hours < track.recipe.gate.hours-0.5 || hours > track.recipe.gate.hours+0.5 {
			t.Errorf("%s: the day is %.1f h on %s, its gate %.1f", c.key, hours, gate, track.recipe.gate.hours)
		}
		equal, err := steadyClimate(0, 10, 20, catalogue.Constants).Track(cr, "mid", cr.UsualRoute(), open(t, catalogue))
		if err != nil {
			t.Fatal(err)
		}
		course := equal.Course(calendar.On(2002, 1, 10), calendar.None)
		if c.key == "jerusalem_artichoke" && (course.Failed() || course.FirstPick > calendar.On(2002, 9, 1)) {
			t.Errorf("%s under equal days of 12 h is lifted %s (%+v)", c.key, course.FirstPick, course.Mishap)
		}
	}
}

// Each latitude grows the onions that bulb there: long-day kinds beyond about
// 35 degrees (National Gardening Association), others nearer the equator.
func TestOnionsBulbAtEveryLatitude(t *testing.T) {
	catalogue := loadCatalogue(t)
	cr := catalogue.Crop("onion_seed")
	d := cr.DayLength
	for _, c := range []struct{ latDeg, hours float64 }{
		{53, d.BulbsAboveH}, {42, d.BulbsAboveH}, {38, d.BulbsAboveH}, {-42, d.BulbsAboveH},
		{30, d.MiddleAboveH}, {-28, d.MiddleAboveH}, {15, d.ShortAboveH}, {0, d.ShortAboveH},
	} {
		climate := steadyClimate(c.latDeg, 12, 22, catalogue.Constants)
		track, err := climate.Track(cr, "mid", cr.UsualRoute(), open(t, catalogue))
		if err != nil {
			t.Fatal(err)
		}
		if track.recipe.gate.hours != c.hours {
			t.Errorf("at %g degrees onions bulb above %g h, want %g", c.latDeg, track.recipe.gate.hours, c.hours)
		}
		if c.latDeg == 0 {
			continue // days of 12 h and a few minutes: only a breeder's work bulbs there
		}
		start := calendar.On(2002, 2, 1)
		if c.latDeg < 0 {
			start = calendar.On(2002, 8, 1)
		}
		if course := track.Course(start, calendar.None); course.Failed() {
			t.Errorf("at %g degrees onions sown %s fail: %+v", c.latDeg, start, course.Mishap)
		}
	}
}
