package place

import (
	"errors"
	"math"
	"os"
	"strings"
	"testing"

	"haulm/internal/place/internal/packed"
	"haulm/internal/place/internal/spelling"
)

// TestSize keeps the gazetteer within its share of the program.
func TestSize(t *testing.T) {
	const most = 2_831_155 // 2.7 MiB
	if len(places) > most {
		t.Errorf("data/places.bin has %d bytes, at most %d are allowed: keep fewer spellings", len(places), most)
	}
	if n := load(t).Len(); n < 50_000 {
		t.Errorf("only %d places", n)
	}
}

func TestEveryPlaceIsWhole(t *testing.T) {
	g := load(t)
	estimated, unknown := 0, 0
	for i := range g.Len() {
		p := g.place(i)
		switch {
		case strings.TrimSpace(p.Name) == "", strings.ContainsAny(p.String(), "\t\n"), spelling.String(p.Name) == "":
			t.Errorf("place %d: name %q", i, p.Name)
		case !onGlobe(p.LatDeg, p.LonDeg), p.LatDeg == 0 && p.LonDeg == 0:
			t.Errorf("%s at %v %v", p, p.LatDeg, p.LonDeg)
		case p.ElevM < -430, p.ElevM > 5_200: // the Dead Sea's shore; La Rinconada
			t.Errorf("%s at %v m", p, p.ElevM)
		case len(p.CountryCode) != 2, p.Country == "", p.Zone == "":
			t.Errorf("place %d lacks its country or zone: %+v", i, p)
		}
		if p.ElevEstimated {
			estimated++
		}
		if p.Population == 0 {
			unknown++
		}
	}
	if estimated == 0 || estimated > 400 {
		t.Errorf("%d heights are estimates, expected some two hundred", estimated)
	}
	if unknown > g.Len()/5 {
		t.Errorf("the population of %d places is unknown", unknown)
	}
}

// TestNoDoubles: one name stands once within ten kilometres of a region.
func TestNoDoubles(t *testing.T) {
	g := load(t)
	type key struct {
		name   string
		region uint16
	}
	seen := map[key][]int{}
	for i := range g.Len() {
		k := key{spelling.String(g.table.Name(i)), g.table.Region[i]}
		p := g.place(i)
		for _, other := range seen[k] {
			o := g.place(other)
			if km := KM(p.LatDeg, p.LonDeg, o.LatDeg, o.LonDeg); km < 9.9 { // the grid moves a place by up to 80 m
				t.Errorf("%s stands twice, %.1f km apart", p, km)
			}
		}
		seen[k] = append(seen[k], i)
	}
}

func TestSpellingsOfAPlaceDiffer(t *testing.T) {
	g := load(t)
	for i := range g.Len() {
		seen := map[string]bool{}
		for name := range strings.SplitSeq(g.table.Line(i), "\t") {
			folded := spelling.String(name)
			if folded == "" || seen[folded] {
				t.Errorf("%s: spelling %q is empty or stands twice", g.place(i), name)
			}
			seen[folded] = true
		}
	}
}

// TestDamagedFile: any single damaged byte, and any cut, gives an error.
func TestDamagedFile(t *testing.T) {
	spoilt := make([]byte, len(places))
	for at := 0; at < len(places); at += 1 + len(places)/97 {
		copy(spoilt, places)
		spoilt[at] ^= 0x40
		if _, err := open(spoilt); !errors.Is(err, packed.ErrDamaged) {
			t.Errorf("byte %d damaged: %v", at, err)
		}
	}
	for _, length := range []int{0, 1, 12, 13, 14, 1000, len(places) - 1} {
		if _, err := open(places[:length]); !errors.Is(err, packed.ErrDamaged) {
			t.Errorf("cut to %d bytes: %v", length, err)
		}
	}
}

// TestAttribution: CC BY 4.0 asks for the maker, the licence and a word on
// changes, in the program and beside it.
func TestAttribution(t *testing.T) {
	notice, err := os.ReadFile("../../NOTICE")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"GeoNames", "https://www.geonames.org", "CC BY 4.0", "https://creativecommons.org/licenses/by/4.0/"} {
		if !strings.Contains(Attribution, want) {
			t.Errorf("Attribution lacks %q", want)
		}
		if !strings.Contains(string(notice), want) {
			t.Errorf("NOTICE lacks %q", want)
		}
	}
	if !strings.Contains(Attribution, "shortened") || !strings.Contains(string(notice), "shortened") {
		t.Error("the licence asks to say that the data were changed")
	}
}

func TestPopulationScale(t *testing.T) {
	for _, people := range []int{1, 2, 7, 99, 500, 12_345, 190_384, 1_260_391, 24_874_500} {
		got := packed.People(packed.PeopleCode(people))
		if off := math.Abs(float64(got)/float64(people) - 1); off > 0.09 && people > 9 {
			t.Errorf("%d people come back as %d", people, got)
		}
	}
	if packed.People(0) != 0 || packed.PeopleCode(0) != 0 {
		t.Error("an unknown population must stay unknown")
	}
}
