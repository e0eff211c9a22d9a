package ground

import (
	"testing"

	"haulm/internal/crop"
	"haulm/internal/garden"
)

// Clumps are set out where plants would be; plants are counted one by one.
func TestClumpsOfMultiSownModules(t *testing.T) {
	catalogue, err := crop.Load()
	if err != nil {
		t.Fatal(err)
	}
	onion, err := catalogue.Crop("onion_multisown").Route("multisown")
	if err != nil {
		t.Fatal(err)
	}
	leek, err := catalogue.Crop("leek").Route("multisown")
	if err != nil {
		t.Fatal(err)
	}
	// Worked out by hand: 1.2 m across holds 4 clumps 30 cm apart, 90 cm along 3
	// rows of them, 5 onions to the clump.
	l := Plants(bed(6, 1.2), SpacingOf(onion), 90)
	if l.Rows != 3 || l.PerRow != 4 || l.Clumps != 12 || l.Plants != 60 || len(l.At) != 12 {
		t.Errorf("onions: %d rows of %d, %d clumps, %d plants, %d drawn", l.Rows, l.PerRow, l.Clumps, l.Plants, len(l.At))
	}
	if got := CountWords(l.Plants, l.Clumps); got != "12 clumps of 5 plants" {
		t.Errorf("onions: %q", got)
	}
	// One row of 5 leeks' clumps, three or four to the clump.
	if l = Plants(bed(6, 1.2), SpacingOf(leek), 30); l.Clumps != 5 || l.Plants != 18 {
		t.Errorf("leeks: %d clumps, %d plants", l.Clumps, l.Plants)
	}
	if got := CountWords(l.Plants, l.Clumps); got != "5 clumps of 3 or 4 plants" {
		t.Errorf("leeks: %q", got)
	}
	// A pot of 21 litres feeds ten onions of 2 litres each: two clumps.
	if l = Plants(pots(3, 21), SpacingOf(onion), 150); l.Clumps != 6 || l.Plants != 30 || l.PerRow != 10 {
		t.Errorf("onions in pots: %d clumps, %d plants, %d in each", l.Clumps, l.Plants, l.PerRow)
	}
	// One of 5 litres holds only two: a small clump.
	if l = Plants(pots(3, 5), SpacingOf(onion), 150); l.Clumps != 3 || l.Plants != 6 {
		t.Errorf("onions in small pots: %d clumps, %d plants", l.Clumps, l.Plants)
	}
	if got := CountWords(7, 0); got != "7 plants" {
		t.Errorf("plants that stand alone: %q", got)
	}
}

// From its plants alone a planting's clumps are found again, by every
// multi-sown route there is.
func TestClumpsAreFoundAgain(t *testing.T) {
	catalogue, err := crop.Load()
	if err != nil {
		t.Fatal(err)
	}
	routes := 0
	for _, c := range catalogue.Crops() {
		for i := range c.Routes {
			r := &c.Routes[i]
			if r.PerStation <= 1 {
				continue
			}
			routes++
			s := SpacingOf(r)
			for _, p := range []garden.Place{bed(8, 1.2), bed(3, 0.5), pots(4, 12)} {
				for length := 20.0; length <= 300; length += 10 {
					if l := Plants(p, s, length); Clumps(p, s, l.Plants) != l.Clumps {
						t.Errorf("%s, %.0f cm of %+v: %d plants are laid out in %d clumps and counted as %d", c.Key, length, p, l.Plants, l.Clumps, Clumps(p, s, l.Plants))
					}
				}
			}
		}
	}
	if routes == 0 {
		t.Error("the catalogue has no multi-sown route")
	}
}
