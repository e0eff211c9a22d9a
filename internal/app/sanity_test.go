package app

import (
	"testing"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/grow"
	"haulm/internal/normals"
	"haulm/internal/weather"
)

var (
	swiftCurrent = climate{"swift-current", "CA_SWIF6752_swift-current-sk.wth.gz", "", weather.Site{LatDeg: 50.27, LonDeg: -107.73, ElevM: 825}}
	peio         = climate{"peio", "IT_T0064_peio.csv.gz", "date,tmax_c,tmin_c,rain_mm", weather.Site{LatDeg: 46.36, LonDeg: 10.68, ElevM: 1565}}
)

// Nothing tender set out in a Swift Current spring lives past its last frost:
// of plants set out on 15 April none is alive when the last killing frost of
// that spring has passed.
func TestTenderCropsDoNotSurviveSpringFrosts(t *testing.T) {
	catalogue := testCatalogue(t)
	w, err := Prepare(swiftCurrent.read(t), catalogue)
	if err != nil {
		t.Fatal(err)
	}
	checked := 0
	for _, key := range []string{"tomato_bush", "tomato_cordon", "pepper", "aubergine", "courgette", "cucumber_outdoor", "french_bean_bush", "basil", "winter_squash", "sweet_potato", "sweetcorn"} {
		cr := catalogue.Crop(key)
		killC := cr.ColdAt("young").KillC
		out := calendar.MonthDay{Month: time.April, Day: 15}
		for i := range cr.Routes {
			if !cr.Routes[i].Raised {
				continue
			}
			spread := grown(t, w, catalogue, key, cr.Routes[i].Key, "", "03-01", "04-15")
			for _, c := range spread.Courses {
				froze := calendar.None
				for day := out.In(c.Start.Year()); day < out.In(c.Start.Year()).Add(75); day++ {
					if at, ok := w.Mended.Index(day); ok && w.Mended.TminC[at] <= killC {
						froze = day
						break
					}
				}
				if !froze.Known() {
					continue
				}
				checked++
				if !c.Failed() || c.Mishap.Kind != grow.FrostKilled || c.Mishap.Day > froze {
					t.Errorf("%s set out on 15 April %d lives through the frost of %s: %+v", cr.Name, c.Start.Year(), froze, c.Mishap)
				}
			}
			break
		}
	}
	if checked < 100 {
		t.Errorf("only %d frosts met", checked)
	}
}

// Tomatoes out of doors fail in most years at Peio, 1565 m up.
func TestTomatoesFailAtPeio(t *testing.T) {
	catalogue := testCatalogue(t)
	w, err := Prepare(peio.read(t), catalogue)
	if err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"tomato_bush", "tomato_cordon"} {
		spread := grown(t, w, catalogue, key, "pot", "", "04-10", "06-05")
		lost, by := spread.Lost()
		t.Logf("%s: %d of %d years lost, %v", key, lost, len(spread.Courses), by)
		if lost*2 <= len(spread.Courses) {
			t.Errorf("%s fails in only %d of %d years at Peio, by %v", key, lost, len(spread.Courses), by)
		}
	}
}

// The south is the north's mirror: the same weather and light half a year on
// give the same days.
func TestSouthMirrorsNorth(t *testing.T) {
	catalogue := testCatalogue(t)
	north, err := normals.BuiltIn(normals.MildMaritime)
	if err != nil {
		t.Fatal(err)
	}
	south := *north
	south.Site.LatDeg = -north.Site.LatDeg
	south.Start = north.Start.Add(182) // the sun's own mirror is a day or two out at the turn of the seasons
	a, err := Prepare(north, catalogue)
	if err != nil {
		t.Fatal(err)
	}
	b, err := Prepare(&south, catalogue)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ key, north, south string }{
		{"beetroot", "04-15", "10-14"}, {"french_bean_bush", "05-20", "11-18"}, {"pea_shelling", "03-25", "09-23"}, {"potato_first_early", "04-01", "09-30"},
	} {
		up := grown(t, a, catalogue, c.key, "", "", c.north, "").FirstPick().P50
		down := grown(t, b, catalogue, c.key, "", "", c.south, "").FirstPick().P50
		if diff := up - down; diff < -4 || diff > 4 {
			t.Errorf("%s: %d days in the north, %d in the south", c.key, up, down)
		}
	}
}

// Puno, on the equator's side of the tropics at 3812 m, has no season for
// sowing, but frost in most months.
func TestPunoHasFrostButNoSeason(t *testing.T) {
	catalogue := testCatalogue(t)
	w := climateNamed(t, "puno", catalogue)
	frosty := map[time.Month]bool{}
	for i := range w.Measured.Days() {
		if w.Measured.TminC[i] < 0 {
			frosty[w.Measured.Start.Add(i).Month()] = true
		}
	}
	if len(frosty) < 7 {
		t.Errorf("frost in %d months", len(frosty))
	}
	least, most := 1000, 0
	for _, start := range []string{"01-15", "03-15", "05-15", "07-15", "09-15", "11-15"} {
		spread := grown(t, w, catalogue, "turnip", "drilled", "", start, "")
		if days := spread.FirstPick().P50; days == grow.Never {
			t.Errorf("turnips sown on %s are never ready at Puno", start)
		} else {
			least, most = min(least, days), max(most, days)
		}
	}
	if most > 2*least {
		t.Errorf("turnips take %d to %d days by month of sowing: a season where there is none", least, most)
	}
}
