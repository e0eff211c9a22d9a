package grow

import (
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/weather"
)

// turning is a climate that is 27 °C on the mean on some days and 16 °C on all
// others.
func turning(catalogue *crop.Catalogue, hot func(day int) bool) *Climate {
	rec := &weather.Record{Site: weather.Site{LatDeg: 43}, Start: calendar.On(2001, 6, 1)}
	for day := range 300 {
		mean := 16.0
		if hot(day) {
			mean = 27
		}
		rec.TminC, rec.TmaxC = append(rec.TminC, mean-6), append(rec.TmaxC, mean+6)
		rec.SunMJ, rec.RainMM = append(rec.SunMJ, 18), append(rec.RainMM, 3)
	}
	return NewClimate(rec, catalogue.Constants)
}

// Heat makes lettuce run up when it lasts after the plant's youth; the summer's
// heat before it was set out, or while it was a seedling in the ground, does not:
// autumn lettuce and calabrese of hot climates are set out in August (common
// practice, no source).
func TestOnlyHeatFeltMakesPlantsRunUp(t *testing.T) {
	catalogue := loadCatalogue(t)
	const setOut = 80
	for _, key := range []string{"lettuce_head", "calabrese"} {
		cr := catalogue.Crop(key)
		for _, tc := range []struct {
			what   string
			hot    func(day int) bool
			bolted bool
		}{
			{"hot until it is set out", func(day int) bool { return day < setOut }, false},
			{"hot from a week after its youth on", func(day int) bool { return day >= setOut+25 }, true},
		} {
			track, err := turning(catalogue, tc.hot).Track(cr, "mid", cr.RaisedRoute(), open(t, catalogue))
			if err != nil {
				t.Fatal(err)
			}
			start := calendar.On(2001, 6, 1).Add(setOut - 30)
			c := track.Course(start, start.Add(30))
			if got := c.Mishap.Kind == Bolted && c.Failed(); got != tc.bolted {
				t.Errorf("%s, %s: %+v, ran to seed %v, want %v", cr.Name, tc.what, c.Mishap, got, tc.bolted)
			}
		}
	}
}
