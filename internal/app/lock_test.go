package app

import (
	"slices"
	"strings"
	"testing"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/cropping"
	"haulm/internal/garden"
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

// A planting that is kept is in the next plan on all of its ground, though its
// row ends before that does: 35 cm of lettuces on two strips of 25.
func TestAKeptPlantingKeepsItsGround(t *testing.T) {
	lettuces := cropping.Saved{Crop: "lettuce_head", Class: "mid", Route: "module", Place: "Long bed", FromCM: 600, ToCM: 650, Start: calendar.On(2027, 4, 5)}
	desk := savedDesk(t, savedPlan{From: calendar.On(2027, 1, 4), Plantings: []cropping.Saved{lettuces}}, time.Date(2027, 1, 4, 8, 0, 0, 0, time.UTC))
	found, err := desk.PlantingsOf("Long bed", "lettuce_head")
	if err != nil || len(found) != 1 || found[0].ToCM >= 640 || found[0].EndCM != 650 {
		t.Fatalf("%+v, %v: want one planting whose row ends before its ground does", found, err)
	}
	g := garden.Demo()
	g.Locks, g.Keeps = nil, []garden.Keep{KeepOf(found[0], false)}
	if k, ok := Kept(g, found[0]); !ok {
		t.Errorf("%+v is kept, and not told so", k)
	}
	w, err := desk.Weather()
	if err != nil {
		t.Fatal(err)
	}
	lay, err := cropping.NewLay(cropping.Question{Garden: g, Catalogue: desk.Catalogue, Climate: w.Climate, From: calendar.On(2027, 1, 4)})
	if err != nil {
		t.Fatal(err)
	}
	if got := lay.Save(lay.Problem.Fixed); !slices.Equal(got, []cropping.Saved{lettuces}) {
		t.Errorf("kept %+v, refused %+v", got, lay.Refused())
	}
	g.Keeps[0].ToCM = found[0].ToCM
	if _, ok := Kept(g, found[0]); !ok {
		t.Error("what was kept by its row is not told as kept")
	}
}
