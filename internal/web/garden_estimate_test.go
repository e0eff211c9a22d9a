package web

import (
	"net/http"
	"strings"
	"testing"

	"haulm/internal/app"
)

func TestAFirstEstimateIsChosenAndOwnedUpTo(t *testing.T) {
	desk := keptDesk(t)
	pages, _ := site(t, desk)
	first := get(t, pages, "/").Body.String()
	if !strings.Contains(first, `value="built-in:estimate" checked`) {
		t.Error("a new garden should begin on the estimate for its own place")
	}
	form := goodForm()
	form.Set("weather", app.EstimateRef)
	form.Set("where", "Cork")
	form.Set("do", "find")
	if page := post(t, pages, "/garden/new", form).Body.String(); !strings.Contains(page, "Here it would rest on") || !strings.Contains(page, "km away") {
		t.Error("with the place known, the form does not say what the estimate rests on and how far that is")
	}
	form.Set("do", "save")
	form.Del("where")
	if w := post(t, pages, "/garden/new", form); w.Code != http.StatusSeeOther {
		t.Fatalf("status %d, faults %s", w.Code, faultsIn(w))
	}
	if g, _ := desk.Garden(); g.WeatherRef != app.EstimateRef {
		t.Errorf("the garden's weather is %q", g.WeatherRef)
	}
	for _, address := range []string{"/garden/ready", "/weather"} {
		page := get(t, pages, address).Body.String()
		if !strings.Contains(page, "Estimated, not measured: ") || !strings.Contains(page, "km away") {
			t.Errorf("%s does not say that it is estimated, from what and how far", address)
		}
	}
	if page := get(t, pages, "/garden").Body.String(); !strings.Contains(page, "As it is: the first estimate for this place") {
		t.Error("the garden page names the weather by its reference")
	}
}

func TestAFarEstimateIsDoubted(t *testing.T) {
	pages, _ := site(t, keptDesk(t))
	form := goodForm()
	form.Set("weather", app.EstimateRef)
	form.Set("latitude", "0")
	form.Set("longitude", "-30") // in the middle of the Atlantic
	form.Set("elevation", "0")
	if w := post(t, pages, "/garden/new", form); w.Code != http.StatusSeeOther {
		t.Fatalf("status %d, faults %s", w.Code, faultsIn(w))
	}
	if page := get(t, pages, "/garden/ready").Body.String(); !strings.Contains(page, `<p class="act">The nearest point`) {
		t.Error("an estimate from 800 km away is told without a doubt")
	}
}
