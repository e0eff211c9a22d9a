package web

import (
	"strings"
	"testing"

	"haulm/internal/app"
	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/cropping"
	"haulm/internal/garden"
	"haulm/internal/ground"
)

// A planting out of multi-sown modules is told in modules where it is sown and in
// clumps where it is set out; the plants of a clump are not left out.
func TestClumpsAreToldOnAPlantingsPage(t *testing.T) {
	catalogue, err := crop.Load()
	if err != nil {
		t.Fatal(err)
	}
	onion := catalogue.Crop("onion_multisown")
	route, err := onion.Route("multisown")
	if err != nil {
		t.Fatal(err)
	}
	bed := garden.Place{Name: "Bed", Kind: garden.Bed, LengthM: 4, WidthM: 1.2}
	p := &cropping.Planting{
		Crop: onion, Route: route, Place: "Bed", ToCM: 150, SetOut: calendar.On(2027, 5, 24),
		Layout: ground.Plants(bed, ground.SpacingOf(route), 150), Seeds: 108,
	}
	if got := sowWords(p); got != "108 seeds, 5 or 6 in each of 20 modules," {
		t.Errorf("sown: %q", got)
	}
	if got := trayWords(p); !strings.Contains(got, "room of 20 cells of a 40-cell tray") {
		t.Errorf("raised: %q", got)
	}
	if got := countWords(p); got != "20 clumps of 5 plants" {
		t.Errorf("set out: %q", got)
	}
	if c := bedCrop(p, app.Stand{Stage: "growing", SpreadM: 0.1}); c.Clumped != "20 clumps of 5 plants" || len(c.Plants) != 20 {
		t.Errorf("drawn as %d stations of %q", len(c.Plants), c.Clumped)
	}
}
