package place

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestParseCoordinates(t *testing.T) {
	for _, c := range []struct {
		text     string
		lat, lon float64
	}{
		{"53.4 -6.3", 53.4, -6.3},
		{"53.4, -6.3", 53.4, -6.3},
		{"53.4,-6.3", 53.4, -6.3},
		{" 53.4 / -6.3 ", 53.4, -6.3},
		{"-33.87 151.2", -33.87, 151.2},
		{"−33.87, 151.2", -33.87, 151.2},
		{"+53.4 +6", 53.4, 6},
		{"53 -6", 53, -6},
		{"53.4° -6.3°", 53.4, -6.3},
		{"53.4N, 6.3W", 53.4, -6.3},
		{"53.4 n 6.3 w", 53.4, -6.3},
		{"53.4N 6.3W", 53.4, -6.3},
		{"N53.4 W6.3", 53.4, -6.3},
		{"N 53.4, W 6.3", 53.4, -6.3},
		{"6.3W 53.4N", 53.4, -6.3},
		{"6.3W, 53.4N", 53.4, -6.3},
		{"33.9S 151.2E", -33.9, 151.2},
		{"53°24'N 6°18'W", 53.4, -6.3},
		{"53°24′N, 6°18′W", 53.4, -6.3},
		{"53° 24' 0\" N, 6° 18' 0\" W", 53.4, -6.3},
		{"53°24'30\"N 6°18'15\"W", 53 + 24.0/60 + 30.0/3600, -(6 + 18.0/60 + 15.0/3600)},
		{"53°24''30 N 6°W", 0, 0}, // seconds before minutes: refused below by NaN
		{"53 24 N 6 18 W", 53.4, -6.3},
		{"53 24 30 N 6 18 15 W", 53 + 24.0/60 + 30.0/3600, -(6 + 18.0/60 + 15.0/3600)},
		{"53 24 -6 18", 53.4, -6.3},
		{"N 53° 24.5' W 6° 18.25'", 53 + 24.5/60, -(6 + 18.25/60)},
		{"53,4 -6,3", 53.4, -6.3},
		{"53,4; -6,3", 53.4, -6.3},
		{"53,4N 6,3W", 53.4, -6.3},
		{"0 0", 0, 0},
		{"90 180", 90, 180},
		{"-90, -180", -90, -180},
	} {
		lat, lon, ok := ParseCoordinates(c.text)
		if c.lat == 0 && c.lon == 0 && c.text != "0 0" {
			if ok {
				t.Errorf("%q: got %v %v, want a refusal", c.text, lat, lon)
			}
			continue
		}
		if !ok || math.Abs(lat-c.lat) > 1e-12 || math.Abs(lon-c.lon) > 1e-12 {
			t.Errorf("%q: %v %v %v, want %v %v", c.text, lat, lon, ok, c.lat, c.lon)
		}
	}
}

func TestParseCoordinatesRefuses(t *testing.T) {
	for _, text := range []string{
		"", " ", "53.4", "Dublin", "53.4 -6.3 12", "91 0", "0 181", "-90.001 0", "53.4N 6.3N", "53.4E 6.3W",
		"53.4.1 -6.3", "53 60 N 6 0 W", "53 24 60 N 6 0 0 W", "53.5 24 N 6 18 W", "-53.4N 6.3W", "- 53.4 6.3",
		"53.4 -", "53.4, -6.3, 12", "53.4,, -6.3", "Newport, Wales", "NaN NaN", "Inf 0", "1e2 3", "53.4N", "N W",
		"53'24°N 6°W", "°53 6", "--53.4 6.3", "53.4 O 6", "20147 Hamburg", "53°24 -6-18", "53.4N53.4 6.3W", "N53.4N 6.3W",
		"\xff53 6", "53 6\x00", ". .",
	} {
		if lat, lon, ok := ParseCoordinates(text); ok {
			t.Errorf("%q: read as %v %v", text, lat, lon)
		}
	}
}

func TestParseCoordinatesReadsWhatItIsGiven(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lat := float64(rapid.IntRange(-90_000, 90_000).Draw(t, "lat")) / 1000
		lon := float64(rapid.IntRange(-180_000, 180_000).Draw(t, "lon")) / 1000
		north, east := "N", "E"
		if lat < 0 {
			north = "S"
		}
		if lon < 0 {
			east = "W"
		}
		forms := []string{
			fmt.Sprintf("%.3f %.3f", lat, lon),
			fmt.Sprintf("%.3f,%.3f", lat, lon),
			fmt.Sprintf("%.3f°%s %.3f°%s", math.Abs(lat), north, math.Abs(lon), east),
			fmt.Sprintf("%s%.3f %s%.3f", east, math.Abs(lon), north, math.Abs(lat)),
		}
		for _, text := range forms {
			gotLat, gotLon, ok := ParseCoordinates(text)
			if !ok || gotLat != lat || gotLon != lon {
				t.Fatalf("%q: %v %v %v", text, gotLat, gotLon, ok)
			}
		}
	})
}

func FuzzParseCoordinates(f *testing.F) {
	for _, seed := range []string{"53.4 -6.3", "53°24'N 6°18'W", "53.4N, 6.3W", "6,3 5,2", "N 1 2 3 E 4 5 6", "''\"°", "-", "1/2"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		lat, lon, ok := ParseCoordinates(text)
		if ok && !onGlobe(lat, lon) || !ok && (lat != 0 || lon != 0) {
			t.Fatalf("%q: %v %v %v", text, lat, lon, ok)
		}
	})
}
