package grow

import (
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/normals"
	"haulm/internal/weather"
)

// allTracks lays every crop's usual route over a climate.
func allTracks(t *testing.T, catalogue *crop.Catalogue, climate *Climate, cover crop.Cover) map[string]*Track {
	t.Helper()
	tracks := map[string]*Track{}
	for _, cr := range catalogue.Crops() {
		if cr.Perennial {
			continue
		}
		track, err := climate.Track(cr, "mid", cr.UsualRoute(), cover)
		if err != nil {
			t.Fatal(err)
		}
		tracks[cr.Key] = track
	}
	return tracks
}

// Sown later is never picked earlier: every crop, week after week. Left out are
// two kinds for which it is not true in the garden either: plants that grow on
// indoors until nights are mild (a week more on the sill can beat a week out of
// doors), and tubers counted from planting (a late planting can come up after
// the frost that cuts an early one).
func TestLaterIsNeverPickedEarlier(t *testing.T) {
	catalogue := loadCatalogue(t)
	climate := builtInClimate(t, catalogue)
	for key, track := range allTracks(t, catalogue, climate, open(t, catalogue)) {
		if r := track.recipe; r.raised && !r.fromSetOut || r.regrows && r.fromStart {
			continue
		}
		last, from := calendar.None, calendar.None
		for week := range 3 * 52 {
			start := climate.Start().Add(7 * week)
			c := track.Course(start, calendar.None)
			if c.Failed() {
				continue
			}
			if last.Known() && c.FirstPick < last {
				t.Errorf("%s: from %s picked %s, from %s already %s", key, from, last, start, c.FirstPick)
			}
			last, from = c.FirstPick, start
		}
	}
}

// A cover never adds a frost: what lives in the open lives under it.
func TestCoversNeverAddFrostKills(t *testing.T) {
	catalogue := loadCatalogue(t)
	climate := builtInClimate(t, catalogue)
	bare := allTracks(t, catalogue, climate, open(t, catalogue))
	for _, cover := range catalogue.Covers() {
		for key, track := range allTracks(t, catalogue, climate, cover) {
			for i, table := range track.frost {
				for day := 0; day < len(table); day += 29 {
					if bare[key].frost[i][day] > table[day] && bare[key].recipe.frost[i].killC == track.recipe.frost[i].killC {
						t.Fatalf("%s under %s freezes on day %d, in the open on day %d", key, cover.Key, table[day], bare[key].frost[i][day])
					}
				}
			}
		}
	}
}

// A climate warmer by a degree, below every plateau, never brings a crop that
// needs no cold to its first picking later.
func TestWarmerIsNeverLater(t *testing.T) {
	catalogue := loadCatalogue(t)
	cold := builtInClimate(t, catalogue)
	rec, _ := normals.BuiltIn(normals.MildMaritime)
	for i := range rec.TminC {
		rec.TminC[i]++
		rec.TmaxC[i]++
	}
	mended, _ := weather.Fill(rec, weather.WMORules())
	warm := NewClimate(mended, catalogue.Constants)
	warmTracks := allTracks(t, catalogue, warm, open(t, catalogue))
	for key, track := range allTracks(t, catalogue, cold, open(t, catalogue)) {
		if r := track.recipe; r.bolt.WantedForCrop || r.raised || r.regrows {
			// Cold is wanted; or plants go out on another day, which moves all after
			// it; or frost is what lifts the crop in autumn, and warmth brings shoots
			// up into the frosts of spring (potatoes).
			continue
		}
		for week := range 2 * 52 {
			start := cold.Start().Add(7 * week)
			a, b := track.Course(start, calendar.None), warmTracks[key].Course(start, calendar.None)
			if !a.Failed() && !b.Failed() && b.FirstPick > a.FirstPick {
				t.Errorf("%s from %s: first picked %s, a degree warmer %s", key, start, a.FirstPick, b.FirstPick)
			}
		}
	}
}

// More light never gives less.
func TestMoreLightNeverGivesLess(t *testing.T) {
	catalogue := loadCatalogue(t)
	dim := builtInClimate(t, catalogue)
	bright := builtInClimate(t, catalogue)
	for i := range bright.lightM {
		bright.lightM[i] *= 1.3
	}
	brightTracks := allTracks(t, catalogue, bright, open(t, catalogue))
	for key, track := range allTracks(t, catalogue, dim, open(t, catalogue)) {
		for day := 0; day < 3*365; day++ {
			if brightTracks[key].heat[day+1]-brightTracks[key].heat[day] < track.heat[day+1]-track.heat[day]-hair {
				t.Fatalf("%s grows less on day %d with more light", key, day)
			}
		}
	}
}
