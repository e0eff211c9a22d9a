package place

import (
	"bytes"
	"errors"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"haulm/internal/place/internal/spelling"
)

// TestFindFirst names the first answer that a person would mean. What a name
// means is common knowledge; the coordinates are checked in stations_test.go.
func TestFindFirst(t *testing.T) {
	g := load(t)
	for _, c := range []struct{ query, want string }{
		// accents, capitals, hyphens, points
		{"Malmö", "Malmö, Skåne, Sweden"},
		{"malmo", "Malmö, Skåne, Sweden"},
		{"Zürich", "Zürich, Zurich, Switzerland"},
		{"ZURICH", "Zürich, Zurich, Switzerland"},
		{"Køge", "Køge, Zealand, Denmark"},
		{"Koge", "Køge, Zealand, Denmark"},
		{"São Paulo", "São Paulo, Brazil"},
		{"sao paulo", "São Paulo, Brazil"},
		{"Łódź", "Łódź, Łódź Voivodeship, Poland"},
		{"Lodz", "Łódź, Łódź Voivodeship, Poland"},
		{"Stratford upon Avon", "Stratford-upon-Avon, Warwickshire, England, United Kingdom"},
		{"laquila", "L'Aquila, Abruzzo, Italy"},
		{"Saint Albans, UK", "St Albans, Hertfordshire, England, United Kingdom"},
		{"St. Gallen", "Sankt Gallen, Saint Gallen, Switzerland"},
		{"  Tralee ", "Tralee, County Kerry, Ireland"},
		// other spellings
		{"Munich", "Munich, Bavaria, Germany"},
		{"München", "Munich, Bavaria, Germany"},
		{"Muenchen", "Munich, Bavaria, Germany"},
		{"Cologne", "Köln, North Rhine-Westphalia, Germany"},
		{"Koln", "Köln, North Rhine-Westphalia, Germany"},
		{"Prague", "Prague, Czechia"},
		{"Praha", "Prague, Czechia"},
		{"Vienna", "Vienna, Austria"},
		{"Wien", "Vienna, Austria"},
		{"Florence", "Florence, Tuscany, Italy"},
		{"Firenze", "Florence, Tuscany, Italy"},
		{"Roma", "Rome, Lazio, Italy"},
		{"København", "Copenhagen, Capital Region, Denmark"},
		{"Den Haag", "The Hague, South Holland, Netherlands"},
		{"Hague", "The Hague, South Holland, Netherlands"},
		{"Kiev", "Kyiv, Kyiv City, Ukraine"},
		{"Galway", "Gaillimh, County Galway, Ireland"},
		{"New York", "New York City, New York, United States"},
		// a country or region behind the name
		{"Newport, Wales", "Newport, Wales, United Kingdom"},
		{"Newport, Isle of Wight", "Newport, Isle of Wight, England, United Kingdom"},
		{"Springfield, IL", "Springfield, Illinois, United States"},
		{"Springfield, Illinois, USA", "Springfield, Illinois, United States"},
		{"Springfield Oregon", "Springfield, Oregon, United States"},
		{"Cork IE", "Cork, County Cork, Ireland"},
		{"Cork, Co. Cork", "Cork, County Cork, Ireland"},
		{"Portland OR", "Portland, Oregon, United States"},
		{"Washington D.C.", "Washington, District of Columbia, United States"},
		{"Boston, Mass", "Boston, Massachusetts, United States"},
		{"Bath, Somerset", "Bath, Bath and North East Somerset, England, United Kingdom"},
		{"London, ON", "London, Ontario, Canada"},
		{"Perth, Scotland", "Perth, Perth and Kinross, Scotland, United Kingdom"},
		{"Perth, WA", "Perth, Western Australia, Australia"},
		// the town that bears the name before the larger one that some call so
		{"Puno", "Puno, Peru"},
		// typing errors
		{"Mulingar", "An Muileann gCearr, County Westmeath, Ireland"},
		{"Brimingham", "Birmingham, England, United Kingdom"},
		{"Reyjkavik", "Reykjavík, Capital Region, Iceland"},
		{"Kathmandoo", "Kathmandu, Bagmati Province, Nepal"},
		{"Invernes", "Inverness, Highland, Scotland, United Kingdom"},
	} {
		matches := g.Find(c.query, 5)
		if len(matches) == 0 || matches[0].String() != c.want {
			t.Errorf("%q: got %v, want %s first", c.query, names(matches), c.want)
		}
	}
}

func names(matches []Match) (list []string) {
	for _, m := range matches {
		list = append(list, m.String())
	}
	return list
}

func TestFindShowsBothEdinburghs(t *testing.T) {
	got := names(load(t).Find("Edinburg", 5))
	for _, want := range []string{"Edinburgh, Scotland, United Kingdom", "Edinburg, Texas, United States"} {
		if !slices.Contains(got, want) {
			t.Errorf("Edinburg: %v lacks %s", got, want)
		}
	}
}

func TestFindTellsTheSpellingThatFits(t *testing.T) {
	g := load(t)
	for query, want := range map[string]string{"Firenze": "Firenze", "Florence": "", "Wien": "Wien"} {
		if got := g.Find(query, 1)[0].Spelling; got != want {
			t.Errorf("%s: spelling %q, want %q", query, got, want)
		}
	}
}

func TestHemispheres(t *testing.T) {
	g := load(t)
	for _, c := range []struct {
		query string
		south bool
		west  bool
	}{
		{"Oslo", false, false}, {"Lisbon, Portugal", false, true}, {"Hobart", true, false}, {"Ushuaia", true, true},
		{"Nairobi", true, false}, {"Quito", true, true}, {"Accra", false, true}, {"Singapore", false, false}, {"Suva", true, false},
	} {
		p := g.Find(c.query, 1)[0]
		if (p.LatDeg < 0) != c.south || (p.LonDeg < 0) != c.west {
			t.Errorf("%s at %v %v", p, p.LatDeg, p.LonDeg)
		}
	}
}

// TestZonesThatMapsGetWrong: towns near the seam of two zones (IANA database).
func TestZonesThatMapsGetWrong(t *testing.T) {
	g := load(t)
	for query, want := range map[string]string{
		"Boise": "America/Boise", "El Paso": "America/Denver", "Phoenix, AZ": "America/Phoenix",
		"Indianapolis": "America/Indiana/Indianapolis", "Broken Hill": "Australia/Broken_Hill", "Derry": "Europe/London",
		"Letterkenny": "Europe/Dublin", "Las Palmas de Gran Canaria": "Atlantic/Canary", "Kaliningrad": "Europe/Kaliningrad",
	} {
		if got := g.Find(query, 1)[0]; got.Zone != want {
			t.Errorf("%s (%s): %s, want %s", query, got, got.Zone, want)
		}
	}
}

func TestOneRefusesWithSuggestions(t *testing.T) {
	g := load(t)
	for _, c := range []struct{ query, near string }{
		{"Brimingham", "Birmingham, England"},
		{"Newport, Atlantis", "Newport, Wales"},
		{"Springfield, Illinois, UK", "Springfield, Missouri"},
		{"Xqzzyplugh", "larger place nearby"},
		{"", "coordinates"},
		{strings.Repeat("long ", 40), "coordinates"},
	} {
		_, err := g.One(c.query)
		var unknown *UnknownError
		if !errors.As(err, &unknown) {
			t.Errorf("%q: %v, want an UnknownError", c.query, err)
			continue
		}
		if !strings.Contains(err.Error(), c.near) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: %v: want one line with %q", c.query, err, c.near)
		}
	}
}

// TestFindAgainstPlainSearch holds the fast search against one that folds and
// compares every name anew.
func TestFindAgainstPlainSearch(t *testing.T) {
	g := load(t)
	for _, query := range []string{"Newport", "Sankt Pete", "Fredriksbrg", "Wuppertaal", "Kirkwal", "Ballina", "Oxf"} {
		folded := spelling.Fold(nil, query)
		whole, slips := 0, 0
		for i := range g.Len() {
			best := 9
			for name := range strings.SplitSeq(g.table.Line(i), "\t") {
				key := spelling.Fold(nil, name)
				switch {
				case bytes.HasPrefix(key, folded):
					best = 0
				case len(folded) >= 7:
					best = min(best, spelling.Distance(key, folded, 2))
				case len(folded) >= 4:
					best = min(best, spelling.Distance(key, folded, 1))
				}
			}
			if best == 0 {
				whole++
			} else if best <= slipsAllowed(len(folded)) {
				slips++
			}
		}
		gotWhole, gotSlips := 0, 0
		matches := g.Find(query, mostMatches)
		for _, m := range matches {
			if m.Kind <= Beginning {
				gotWhole++
			} else {
				gotSlips++
			}
		}
		if len(matches) > 0 && matches[0].Kind == Exact {
			slips = gotSlips // left out on purpose where a town bears the name
		}
		if gotWhole != whole || gotSlips != slips {
			t.Errorf("%s: %d whole and %d misspelt, want %d and %d", query, gotWhole, gotSlips, whole, slips)
		}
	}
}

func TestFindOrder(t *testing.T) {
	g := load(t)
	for _, query := range []string{"Spring", "Newport", "York", "Mancester", "San"} {
		matches := g.Find(query, 40)
		for i := 1; i < len(matches); i++ {
			a, b := matches[i-1], matches[i]
			if a.Kind > b.Kind || a.Kind == b.Kind && a.Spelling == "" && b.Spelling == "" && a.Population < b.Population {
				t.Errorf("%s: %s (%d people) stands before %s (%d)", query, a, a.Population, b, b.Population)
			}
		}
		if short := g.Find(query, 3); !slices.Equal(names(short), names(matches[:len(short)])) {
			t.Errorf("%s: the first three of a short list are not those of a long one: %v, %v", query, names(short), names(matches))
		}
	}
}

func FuzzFind(f *testing.F) {
	for _, seed := range []string{"Malmö", "Newport, Wales", "Cork IE", ",", "a,b,c", "St.", "\x00\xff", "Ф", "''", "the ", "Springfield, I.L."} {
		f.Add(seed, 5)
	}
	g := load(f)
	f.Fuzz(func(t *testing.T, query string, limit int) {
		matches := g.Find(query, limit)
		if len(matches) > max(0, limit) {
			t.Fatalf("%d matches for a limit of %d", len(matches), limit)
		}
		seen := map[Place]bool{}
		for _, m := range matches {
			if m.Name == "" || !utf8.ValidString(m.String()) || seen[m.Place] {
				t.Fatalf("%q: %+v", query, m)
			}
			seen[m.Place] = true
		}
	})
}
