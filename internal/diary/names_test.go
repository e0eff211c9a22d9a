package diary

import (
	"fmt"
	"strings"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/garden"
)

// longBeds is a garden whose places have long names; onions are planned in the
// South bed alone.
func longBeds(tb testing.TB, names ...string) Context {
	tb.Helper()
	c := plot(tb)
	c.Places, c.Standing = nil, nil
	for _, name := range names {
		c.Places = append(c.Places, garden.Place{Name: name, Kind: garden.Bed, LengthM: 4, WidthM: 1.2})
	}
	c.Standing = []Standing{{Key: "onion", Crop: "onion_multisown", Place: names[0], Planned: c.Today, Begun: calendar.None, Cleared: calendar.None}}
	return c
}

// Any words of a place's name that stand in it one after the other are enough,
// where no other place has them.
func TestAPlaceIsFoundByAnyOfItsWords(t *testing.T) {
	c := longBeds(t, "South bed", "The long bed beside the greenhouse wall", "Pots (yard)", "Bed 2 by the shed", "Bed 12", "Bed A")
	long := "The long bed beside the greenhouse wall"
	for line, want := range map[string]string{
		"sown radish the long bed beside the greenhouse wall": long,
		"sown radish long bed beside greenhouse wall":         long,
		"sown radish long bed":                                long,
		"sown radish in the long bed":                         long,
		"the long bed: sown radish":                           long,
		"sown radish the long":                                long,
		"sown radish long":                                    long,
		"sown radish by the greenhouse wall":                  long,
		"sown radish greenh":                                  long,
		"sown radish wall 12 May":                             long,
		"watered the long bed 3 cans":                         long,
		"sown radish south":                                   "South bed",
		"sown radish in the South bed":                        "South bed",
		"sown radish pots (yard)":                             "Pots (yard)",
		"sown radish (yard)":                                  "Pots (yard)",
		"sown radish bed 2":                                   "Bed 2 by the shed",
		"sown 20 radish shed":                                 "Bed 2 by the shed",
		"watered bed 12 two cans":                             "Bed 12",
		"sown radish bed a":                                   "Bed A",
		"sown onion":                                          "South bed",
	} {
		if e, _, err := ParseLine(line, c); err != nil || e.Place != want || !strings.Contains(line, "radish") != (e.Crop != "radish_summer") {
			t.Errorf("%q: %s in %q, %v; want %q", line, e.Crop, e.Place, err, want)
		}
	}
	for line, want := range map[string]string{
		"sown radish bed":    `"bed" could be South bed, The long bed beside the greenhouse wall, Bed 2 by the shed, Bed 12 or Bed A: name the one`,
		"sown radish bed 1":  `no place is called "bed 1"`, // and not the beginning of Bed 12
		"sown radish bed 3":  `no place is called "bed 3"`,
		"sown onion the":     `understood: sown, Onion (multi-sown modules); the line breaks off after "the"`,
		"sown radish the":    `the line breaks off after "the"`,
		"sown radish north":  `cannot make out "north"`,
		"sown radish beside": `nowhere`,
	} {
		if e, _, err := ParseLine(line, c); want == "nowhere" {
			if err != nil || e.Place != long {
				t.Errorf("%q: %q, %v", line, e.Place, err)
			}
		} else if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %q, %v; want a word on %q", line, e.Place, err, want)
		}
	}
}

// Words that several places have are asked about, and settled by one word more.
func TestWordsOfSeveralPlacesAreAskedAbout(t *testing.T) {
	c := longBeds(t, "Long bed north", "Long bed south", "The long bed", "Wallflower border", "Wall border")
	for line, want := range map[string]string{
		"sown radish long bed north": "Long bed north",
		"sown radish north":          "Long bed north",
		"sown radish bed south":      "Long bed south",
		"sown radish the long bed":   "The long bed",
		"sown radish long bed":       "The long bed", // the whole of its name
		"sown radish wall":           "Wall border",
		"sown radish wallf":          "Wallflower border",
	} {
		if e, _, err := ParseLine(line, c); err != nil || e.Place != want {
			t.Errorf("%q: %q, %v; want %q", line, e.Place, err, want)
		}
	}
	for line, want := range map[string]string{
		"sown radish long":   `"long" could be Long bed north, Long bed south or The long bed: name the one`,
		"sown radish border": `"border" could be Wallflower border or Wall border: name the one`,
		"sown radish wal":    `"wal" could be Wallflower border or Wall border: name the one`,
	} {
		if e, _, err := ParseLine(line, c); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %q, %v; want a word on %q", line, e.Place, err, want)
		}
	}
	twins := longBeds(t, "Long bed", "The long bed")
	for line, want := range map[string]string{"sown radish long bed": "Long bed", "sown radish the long bed": "The long bed", "sown radish in the long bed": "The long bed"} {
		if e, _, err := ParseLine(line, twins); err != nil || e.Place != want {
			t.Errorf("%q: %q, %v; want %q", line, e.Place, err, want)
		}
	}
}

// What a loss is put down to is no place.
func TestACauseIsNoPlace(t *testing.T) {
	c := longBeds(t, "South bed", "Bed of the cold wind")
	c.Standing[0].Begun = on("2027-05-01")
	if e, _, err := ParseLine("lost 3 onions cold", c); err != nil || e.Place != "South bed" || e.Cause != "cold" {
		t.Errorf("%+v, %v", e, err)
	}
}

// Every crop is known by each of its names as a page or a table shows it,
// brackets, hyphens and all.
func TestEveryNameIsKnownAsItIsWritten(t *testing.T) {
	c := plot(t)
	c.Standing = nil
	for _, cr := range c.Catalogue.Crops() {
		lines := []string{fmt.Sprintf("Bed 2: %s, sown 12 May", cr.Name)}
		for _, name := range append([]string{cr.Name, cr.Key, strings.ToUpper(cr.Name)}, cr.OtherNames...) {
			lines = append(lines, fmt.Sprintf("sown %s bed 2", name))
		}
		for _, line := range lines {
			if e, _, err := ParseLine(line, c); err != nil || e.Crop != cr.Key {
				t.Errorf("%q: %q, %v; want %s", line, e.Crop, err, cr.Key)
			}
		}
	}
}

func TestPartsOfABracketedName(t *testing.T) {
	c := plot(t)
	for line, want := range map[string]string{
		"sown onion (multi-sown modules) bed 2": "onion_multisown",
		"sown onion multi-sown bed 2":           "onion_multisown",
		"sown onions (multi-sown) bed 2":        "onion_multisown",
		"sown multi-sown onions bed 2":          "onion_multisown",
		"multi-sown onions planted bed 2":       "onion_multisown",
		"planted Onion (spring sets) bed 2":     "onion_sets",
		"sown spring onions bed 2":              "spring_onion",
		"sown onion spring bed 2":               "spring_onion",
		"picked the first potatoes bed 2 1 kg":  "potato_maincrop",
		"fed 2 cans for chicory bed 2":          "chicory",
		"picked 1 kg autumn onions bed 1":       "onion_autumn_sets", // those that grow there
		"sown onions bed 1":                     "onion_autumn_sets",
		"sown onion (multi-sown modules) bed 1": "onion_multisown", // whatever other kind grows there
		"sown multi-sown onions bed 1":          "onion_multisown",
		"sown early carrots bed 1":              "carrot_early",
	} {
		if e, _, err := ParseLine(line, c); err != nil || e.Crop != want {
			t.Errorf("%q: %q, %v; want %q", line, e.Crop, err, want)
		}
	}
	if e, _, err := ParseLine("sown autumn onions yard", c); err != nil && !strings.Contains(err.Error(), "autumn") {
		t.Errorf("two kinds are sown or set in autumn: %+v, %v", e, err)
	}
}
