package grow

import (
	"testing"

	"pgregory.net/rapid"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/normals"
	"haulm/internal/weather"
)

// The properties of property_test.go once more, on weather, crops, routes,
// kinds, grounds and days drawn at random. What is left out, and why, is said
// there.

// drawn is one planting of a random crop.
type drawn struct {
	crop  *crop.Crop
	route *crop.Route
	class string
	start int // days after the beginning of the record
}

func drawPlanting(r *rapid.T, catalogue *crop.Catalogue, fits func(*crop.Crop, *crop.Route) bool) drawn {
	var all []drawn
	for _, cr := range catalogue.Crops() {
		for i := range cr.Routes {
			if !cr.Perennial && fits(cr, &cr.Routes[i]) {
				all = append(all, drawn{crop: cr, route: &cr.Routes[i]})
			}
		}
	}
	d := all[rapid.IntRange(0, len(all)-1).Draw(r, "crop and route")]
	d.class = rapid.SampledFrom([]string{"early", "mid", "late"}).Draw(r, "class")
	d.start = rapid.IntRange(60, 4*365).Draw(r, "start")
	return d
}

func (d drawn) on(r *rapid.T, climate *Climate, ground Ground, later int) Course {
	track, err := climate.TrackIn(d.crop, d.class, d.route, ground)
	if err != nil {
		r.Fatal(err)
	}
	return track.Course(climate.Start().Add(d.start+later), calendar.None)
}

// changed is the built-in climate with its temperatures and light changed.
func changed(tb testing.TB, catalogue *crop.Catalogue, warmerC, lighter float64) *Climate {
	tb.Helper()
	rec, err := normals.BuiltIn(normals.MildMaritime)
	if err != nil {
		tb.Fatal(err)
	}
	for i := range rec.TminC {
		rec.TminC[i] += warmerC
		rec.TmaxC[i] += warmerC
	}
	mended, _ := weather.Fill(rec, weather.WMORules())
	c := NewClimate(mended.Between(mended.Start, mended.Start.Add(6*365)), catalogue.Constants)
	for i := range c.lightM {
		c.lightM[i] *= lighter
	}
	return c
}

func TestWarmerIsNeverLater_AnyPlanting(t *testing.T) {
	catalogue := loadCatalogue(t)
	cold := changed(t, catalogue, 0, 1)
	warmer := []*Climate{changed(t, catalogue, 0.3, 1), changed(t, catalogue, 1, 1), changed(t, catalogue, 2, 1)}
	rapid.Check(t, func(r *rapid.T) {
		d := drawPlanting(r, catalogue, func(cr *crop.Crop, route *crop.Route) bool {
			return !cr.Bolting.WantedForCrop && !route.Raised && !cr.ColdAt("growing").Regrows
		})
		warm := warmer[rapid.IntRange(0, len(warmer)-1).Draw(r, "warmer")]
		a, b := d.on(r, cold, Ground{Cover: open(t, catalogue)}, 0), d.on(r, warm, Ground{Cover: open(t, catalogue)}, 0)
		if !a.Failed() && !b.Failed() && b.FirstPick > a.FirstPick {
			r.Fatalf("%s %s %s from %s: picked %s, warmer %s", d.class, d.crop.Key, d.route.Key, a.Start, a.FirstPick, b.FirstPick)
		}
	})
}

func TestLaterIsNeverPickedEarlier_AnyPlanting(t *testing.T) {
	catalogue := loadCatalogue(t)
	climate := changed(t, catalogue, 0, 1)
	covers := append([]crop.Cover{open(t, catalogue)}, catalogue.Covers()...)
	rapid.Check(t, func(r *rapid.T) {
		d := drawPlanting(r, catalogue, func(cr *crop.Crop, route *crop.Route) bool {
			return (!route.Raised || cr.Growth.From == crop.FromTransplant) && !(cr.ColdAt("growing").Regrows && cr.Growth.From == crop.FromPlanting)
		})
		ground := groundsOf(t, rapid.SampledFrom(covers).Draw(r, "cover"), d.route)[rapid.IntRange(0, 4).Draw(r, "ground")]
		sooner, later := d.on(r, climate, ground, 0), d.on(r, climate, ground, rapid.IntRange(1, 60).Draw(r, "days later"))
		if !sooner.Failed() && !later.Failed() && later.FirstPick < sooner.FirstPick {
			r.Fatalf("%s %s %s: from %s picked %s, from %s already %s", d.class, d.crop.Key, d.route.Key, sooner.Start, sooner.FirstPick, later.Start, later.FirstPick)
		}
	})
}

// What lives through a night in the open lives through it under any cover that
// never takes warmth away.
func TestCoversNeverAddFrostKills_AnyNight(t *testing.T) {
	catalogue := loadCatalogue(t)
	climate := changed(t, catalogue, -6, 1)
	rapid.Check(t, func(r *rapid.T) {
		key := frostKey{killC: rapid.Float64Range(-15, 5).Draw(r, "killed at")}
		key.winterKillC = key.killC - rapid.Float64Range(0, 8).Draw(r, "hardened by")
		cover := rapid.SampledFrom(catalogue.Covers()).Draw(r, "cover")
		night := rapid.IntRange(0, len(climate.minC)-1).Draw(r, "night")
		if climate.kills(night, key, cover) && !climate.kills(night, key, open(t, catalogue)) {
			r.Fatalf("%s kills what lives in the open at %.1f °C", cover.Key, climate.minC[night])
		}
	})
}

// More light never gives less of a crop that comes through as it should in
// either light. Crops of fruit are held to it day by day: they flower sooner in
// more light, and may meet a duller or hotter week; what runs to seed does so
// sooner too, and what is taken small is taken on another day.
func TestMoreLightNeverGivesLess_AnyPlanting(t *testing.T) {
	catalogue := loadCatalogue(t)
	dim := changed(t, catalogue, 0, 1)
	lighter := []*Climate{changed(t, catalogue, 0, 1.1), changed(t, catalogue, 0, 1.5), changed(t, catalogue, 0, 2)}
	rapid.Check(t, func(r *rapid.T) {
		bright := lighter[rapid.IntRange(0, len(lighter)-1).Draw(r, "lighter")]
		key := setKey{rapid.Float64Range(20, 40).Draw(r, "no set above"), rapid.Float64Range(0, 12).Draw(r, "no set below"), ""}
		if day := rapid.IntRange(0, len(dim.minC)-1).Draw(r, "day"); bright.setOn(day, key, open(t, catalogue)) < dim.setOn(day, key, open(t, catalogue)) {
			r.Fatalf("fewer flowers set in more light on day %d", day)
		}
		d := drawPlanting(r, catalogue, func(cr *crop.Crop, _ *crop.Route) bool {
			return !cr.Picking.Small && cr.Heat.SetStopsMaxC == 0 && cr.Heat.SetStopsMinC == 0 && cr.Heat.BoltsMeanC == 0 && cr.Bolting == crop.Bolting{}
		})
		a, b := d.on(r, dim, Ground{Cover: open(t, catalogue)}, 0), d.on(r, bright, Ground{Cover: open(t, catalogue)}, 0)
		if a.Mishap.Kind != NoMishap || b.Mishap.Kind != NoMishap || a.RanOut || b.RanOut {
			return
		}
		lastDayKg := d.crop.Yield.TypicalKgM2 / d.crop.Picking.Days // picking ends on whole days
		if b.KgPerM2 < a.KgPerM2-lastDayKg {
			r.Fatalf("%s %s %s from %s: %.3f kg to %s, in more light %.3f to %s", d.class, d.crop.Key, d.route.Key, a.Start, a.KgPerM2, a.LastPick, b.KgPerM2, b.LastPick)
		}
	})
}
