package app

import (
	"context"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/climatology"
	"haulm/internal/garden"
	"haulm/internal/store"
	"haulm/internal/weather"
)

// hillStation is a record of a year at 200 m, 10 to 20 °C each day, by a
// station of which the height is known or not.
func hillStation(heightKnown bool) *Fetched {
	rec := &weather.Record{
		Station: "USW00014735", Name: "Albany", Source: "NOAA NCEI",
		Site: weather.Site{LatDeg: 42.7, LonDeg: -73.8}, Start: calendar.On(2001, 1, 1),
	}
	for range 365 {
		rec.TminC, rec.TmaxC, rec.RainMM = append(rec.TminC, 10), append(rec.TmaxC, 20), append(rec.RainMM, 0)
	}
	f := &Fetched{Station: StationAnswer{ID: rec.Station, Name: rec.Name}, Record: rec}
	if heightKnown {
		rec.Site.ElevM = 200
		f.Station.ElevM = &rec.Site.ElevM
	}
	return f
}

// TestFetchedRecordComesToTheGarden: the garden's site makes sun and day
// length; its height makes the temperatures, unless it is told to leave them or
// nobody knows the station's.
func TestFetchedRecordComesToTheGarden(t *testing.T) {
	lapse := climatology.LapseCPerKM(42.4, 7)
	if lapse < 4 || lapse > 9 {
		t.Fatalf("July's lapse rate is %.1f °C/km", lapse)
	}
	for _, c := range []struct {
		name         string
		known, leave bool
		gardenM      float64
		julyTminC    float64
		says         string
	}{
		{"300 m above", true, false, 500, 10 - 0.3*lapse, "the garden lies 300 m above the station"},
		{"150 m below", true, false, 50, 10 + 0.15*lapse, "the garden lies 150 m below the station"},
		{"as high", true, false, 205, 10, ""},
		{"left as measured", true, true, 500, 10, ""},
		{"height not known", false, false, 500, 10, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			file, err := store.Create(filepath.Join(t.TempDir(), "g.haulm"))
			if err != nil {
				t.Fatal(err)
			}
			defer file.Close()
			desk, err := OpenDesk(context.Background(), file, testCatalogue(t), testNow)
			if err != nil {
				t.Fatal(err)
			}
			g := *garden.Demo()
			g.Site = weather.Site{LatDeg: 42.4, LonDeg: -74.5, ElevM: c.gardenM}
			if err := desk.SaveGarden(&g); err != nil {
				t.Fatal(err)
			}
			if err := desk.KeepFetched(hillStation(c.known), c.leave); err != nil {
				t.Fatal(err)
			}
			w, err := desk.Weather()
			if err != nil {
				t.Fatal(err)
			}
			if w.Measured.Site != g.Site || w.Mended.Site != g.Site {
				t.Errorf("the record's site is %v, the garden's %v", w.Measured.Site, g.Site)
			}
			july, _ := w.Measured.Index(calendar.On(2001, 7, 10))
			if math.Abs(w.Measured.TminC[july]-c.julyTminC) > 0.01 || math.Abs(w.Measured.TmaxC[july]-c.julyTminC-10) > 0.01 {
				t.Errorf("July has %.2f to %.2f °C, wanted %.2f and 10 more", w.Measured.TminC[july], w.Measured.TmaxC[july], c.julyTminC)
			}
			if strings.Contains(w.Measured.Source, "the garden lies") != (c.says != "") || !strings.Contains(w.Measured.Source, c.says) {
				t.Errorf("the source says %q", w.Measured.Source)
			}
		})
	}
}

// A garden that grows in a fetched record at another height is the same garden
// after it was taken out and in again, by either way of taking it out.
func TestAFetchedRecordIsTakenAwayAtTheGardensHeight(t *testing.T) {
	desk := emptyDesk(t, testNow())
	g := *garden.Demo()
	g.Site = weather.Site{LatDeg: 42.4, LonDeg: -74.5, ElevM: 500}
	if err := desk.SaveGarden(&g); err != nil {
		t.Fatal(err)
	}
	if err := desk.KeepFetched(hillStation(true), false); err != nil {
		t.Fatal(err)
	}
	want, err := desk.Weather()
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	if _, err := ExportGarden(desk, filepath.Join(folder, "mine.toml")); err != nil {
		t.Fatal(err)
	}
	if _, err := ExportEverything(desk, filepath.Join(folder, "all")); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{"mine.toml", "all/garden.toml"} {
		other := emptyDesk(t, testNow())
		if _, err := ImportGarden(other, filepath.Join(folder, path)); err != nil {
			t.Fatal(err)
		}
		got, err := other.Weather()
		if err != nil {
			t.Fatal(err)
		}
		if a, b := want.Measured.TminC[200], got.Measured.TminC[200]; a == 10 || math.Abs(a-b) > 1e-9 {
			t.Errorf("%s: %.3f °C came back as %.3f, the station measured 10", path, a, b)
		}
	}
}
