package app

import (
	"slices"
	"strings"
	"testing"
	"time"
)

// What a person calls a planting finds it, though the bare name usually means
// another kind: "potato" for the second earlies of the plan.
func TestAPlantingIsFoundByItsBareName(t *testing.T) {
	desk := keptDesk(t, time.Date(2027, 1, 4, 8, 0, 0, 0, time.UTC))
	planned, err := desk.Planned()
	if err != nil {
		t.Fatal(err)
	}
	other := 0 // kinds that the bare name does not usually mean
	for i := range planned.Year.Plantings {
		p := &planned.Year.Plantings[i]
		if p.Stands {
			continue
		}
		if usual, err := desk.Catalogue.Find(p.Crop.PlainName()); err == nil && usual != p.Crop {
			other++
		}
		found, err := desk.PlantingsOf(p.Place, p.Crop.PlainName())
		if err != nil || len(found) == 0 {
			t.Errorf("%s in %s: %v", p.Crop.PlainName(), p.Place, err)
		}
		if exact, err := desk.PlantingsOf(p.Place, p.Crop.Name); err != nil || !slices.Contains(exact, p) {
			t.Errorf("%s in %s: %v, %v", p.Crop.Name, p.Place, exact, err)
		}
		if _, err := desk.PlantingsOf(p.Place, "taro"); err == nil || !strings.Contains(err.Error(), "it has ") {
			t.Errorf("what is not planned: %v", err)
		}
	}
	if other == 0 {
		t.Error("every bare name means the kind that is planned, so this shows nothing")
	}
}
