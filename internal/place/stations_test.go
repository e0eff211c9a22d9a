package place

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
	"time"
	_ "time/tzdata" // the zones must load on a machine without a time zone database too
)

func load(t testing.TB) *Gazetteer {
	t.Helper()
	g, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	return g
}

type station struct {
	query, country, zone, source, name string
	lat, lon, elevM, km, metres        float64
	reason                             string
}

func readStations(t *testing.T) (list []station) {
	t.Helper()
	file, err := os.Open("testdata/stations.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	table := csv.NewReader(file)
	table.Comment = '#'
	rows, err := table.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		var f [5]float64
		for i := range f {
			if f[i], err = strconv.ParseFloat(row[5+i], 64); err != nil {
				t.Fatalf("%s: %v", row[0], err)
			}
		}
		list = append(list, station{row[0], row[1], row[2], row[3], row[4], f[0], f[1], f[2], f[3], f[4], row[10]})
	}
	return list
}

// TestPlaces_StationLists holds the first answer for a name against the
// coordinates and height of a weather station there. The sources, and why a
// station may stand off the place's centre, are in testdata/stations.csv.
func TestPlaces_StationLists(t *testing.T) {
	g := load(t)
	stations := readStations(t)
	if len(stations) < 40 {
		t.Fatalf("only %d stations", len(stations))
	}
	for _, s := range stations {
		match, err := g.One(s.query)
		if err != nil {
			t.Errorf("%s: %v", s.query, err)
			continue
		}
		if match.CountryCode != s.country || match.Zone != s.zone {
			t.Errorf("%s: got %s in %s, want %s in %s", s.query, match, match.Zone, s.country, s.zone)
		}
		if km := KM(s.lat, s.lon, match.LatDeg, match.LonDeg); km > s.km {
			t.Errorf("%s: %s (%s) at %.3f %.3f, got %.3f %.3f: %.1f km off, allowed %.0f", s.query, s.name, s.source, s.lat, s.lon, match.LatDeg, match.LonDeg, km, s.km)
		}
		if off := match.ElevM - s.elevM; math.Abs(off) > s.metres {
			t.Errorf("%s: %s (%s) at %.0f m, got %.0f m: %+.0f m, allowed %.0f", s.query, s.name, s.source, s.elevM, match.ElevM, off, s.metres)
		}
		if (s.km != 12 || s.metres != 50) != (s.reason != "") {
			t.Errorf("%s: an own tolerance needs a reason, and only it", s.query)
		}
	}
}

// TestZonesLoad checks every zone name against the IANA database that Go carries.
func TestZonesLoad(t *testing.T) {
	for _, zone := range load(t).table.Zones {
		if _, err := time.LoadLocation(zone); err != nil || zone == "" || zone == "Local" {
			t.Errorf("zone %q: %v", zone, err)
		}
	}
}

// TestZoneAgreesWithLongitude: the zone's standard time must lie near the time
// of the sun. China keeps one time from 74° to 135° east and is left out;
// elsewhere the widest are western Spain's and Argentina's (some 2.6 h).
func TestZoneAgreesWithLongitude(t *testing.T) {
	g := load(t)
	offsets := make([]float64, len(g.table.Zones))
	for i, zone := range g.table.Zones {
		where, err := time.LoadLocation(zone)
		if err != nil {
			t.Fatal(err)
		}
		_, winter := time.Date(2022, 1, 15, 12, 0, 0, 0, where).Zone()
		_, summer := time.Date(2022, 7, 15, 12, 0, 0, 0, where).Zone()
		offsets[i] = float64(min(winter, summer)) / 3600
	}
	wrong := 0
	for i := range g.Len() {
		apart := math.Abs(math.Remainder(offsets[g.table.Zone[i]]-degrees(g.table.Lon[i])/15, 24))
		if apart > 2.7 && g.place(i).CountryCode != "CN" {
			if wrong++; wrong <= 5 {
				p := g.place(i)
				t.Errorf("%s at %.2f° keeps %s, %.1f h from the sun", p, p.LonDeg, p.Zone, apart)
			}
		}
	}
}
