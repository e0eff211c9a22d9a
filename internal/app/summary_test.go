package app

import (
	"bytes"
	"testing"

	"haulm/internal/crop"
	"haulm/internal/cropping"
	"haulm/internal/ground"
)

// Clumps are told as what is set out, and once for all how many plants they have.
func TestASummaryTellsClumps(t *testing.T) {
	catalogue := testCatalogue(t)
	onion, leek := catalogue.Crop("onion_multisown"), catalogue.Crop("leek")
	clumped := func(c *crop.Crop) *crop.Route {
		route, err := c.Route("multisown")
		if err != nil {
			t.Fatal(err)
		}
		return route
	}
	y := &cropping.Year{Plantings: []cropping.Planting{
		{Crop: onion, Route: clumped(onion), Layout: ground.Layout{Plants: 100, Clumps: 20}},
		{Crop: leek, Route: leek.UsualRoute(), Layout: ground.Layout{Plants: 36}},
		{Crop: leek, Route: clumped(leek), Layout: ground.Layout{Plants: 4, Clumps: 1}},
		{Crop: onion, Route: clumped(onion), Layout: ground.Layout{Plants: 38, Clumps: 8}},
	}}
	for i, want := range []string{"20 clumps", "36 plants", "1 clump", "8 clumps"} {
		if got := setOutWords(&y.Plantings[i]); got != want {
			t.Errorf("planting %d: %q, want %q", i, got, want)
		}
	}
	var text bytes.Buffer
	writeClumps(&text, y)
	if want := "\nA clump is the plants of one multi-sown module, set out together: onion (multi-sown modules) 5 and leek 3 or 4.\n"; text.String() != want {
		t.Errorf("got %q, want %q", text.String(), want)
	}
	text.Reset()
	writeClumps(&text, &cropping.Year{Plantings: y.Plantings[1:2]})
	if text.Len() > 0 {
		t.Errorf("without clumps: %q", text.String())
	}
}
