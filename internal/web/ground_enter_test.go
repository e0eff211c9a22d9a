package web

import (
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"haulm/internal/app"
	"haulm/internal/cropping"
)

// An offer for a gap goes into the plan by one button and out again by another.
func TestAnOfferIsPutIntoThePlan(t *testing.T) {
	desk := runningDesk(t)
	pages, _ := site(t, desk)
	gap := gapIn(t, desk)
	page := get(t, pages, gap).Body.String()
	form := url.Values{}
	first, _, _ := strings.Cut(page[strings.Index(page, `<form class="tick"`):], "</form>")
	for _, m := range regexp.MustCompile(`name="(\w+)" value="([^"]*)"`).FindAllStringSubmatch(first, -1) {
		form.Set(m[1], m[2])
	}
	if form.Get("crop") == "" || form.Get("place") == "" {
		t.Fatalf("no offer can be taken: %s", first)
	}
	before, err := desk.Planned()
	if err != nil {
		t.Fatal(err)
	}
	w := post(t, pages, "/ground/fill", form)
	if w.Code != http.StatusOK || !strings.Contains(w.Body.String(), "In the plan") || !strings.Contains(w.Body.String(), `action="/ground/fill/undo"`) {
		t.Fatalf("putting it in: %d %s", w.Code, w.Body)
	}
	entered := func(planned *app.Planned) bool {
		return slices.ContainsFunc(planned.Year.Plantings, func(p cropping.Planting) bool {
			return p.Crop.Key == form.Get("crop") && p.Place == form.Get("place") && strconv.Itoa(p.FromCM) == form.Get("from") && max(p.OnGround-desk.Today(), desk.Today()-p.OnGround) < 7
		})
	}
	after, err := desk.Planned()
	if err != nil || entered(before) || !entered(after) {
		t.Errorf("the plan has the offer: %v, had it: %v, %v", entered(after), entered(before), err)
	}
	if w := post(t, pages, "/ground/fill/undo", url.Values{"place": form["place"]}); w.Code != http.StatusSeeOther || !strings.HasPrefix(w.Header().Get("Location"), "/ground/fill?place=") {
		t.Errorf("taking it out: %d to %q", w.Code, w.Header().Get("Location"))
	}
	if again, err := desk.Planned(); err != nil || len(again.Year.Plantings) != len(before.Year.Plantings) {
		t.Errorf("after undoing the plan has %d plantings, %v", len(again.Year.Plantings), err)
	}
	for form, want := range map[string]int{
		"place=Orchard&crop=leek": http.StatusNotFound, "place=" + url.QueryEscape(form.Get("place")) + "&crop=moonfruit": http.StatusConflict,
	} {
		values, _ := url.ParseQuery(form)
		if w := post(t, pages, "/ground/fill", values); w.Code != want {
			t.Errorf("%s: %d, want %d", form, w.Code, want)
		}
	}
	if w := post(t, pages, "/ground/fill/undo", url.Values{}); w.Code != http.StatusConflict {
		t.Errorf("undoing twice: %d", w.Code)
	}
}

// The garden's form keeps what the ground is.
func TestTheFormKeepsTheSoil(t *testing.T) {
	desk := runningDesk(t)
	g, err := desk.Garden()
	if err != nil {
		t.Fatal(err)
	}
	changed := *g
	changed.Soil = "sandy loam"
	changed.Places = append(changed.Places[:0:0], g.Places...)
	changed.Places[0].Soil = "clay"
	f := formOf(&changed, desk.Catalogue, true)
	built, ok := f.build(&changed)
	if !ok || built.Soil != "sandy loam" || built.Places[0].Soil != "clay" || built.Places[1].Soil != "" {
		t.Errorf("the form gives back %q and %q: %v", built.Soil, built.Places[0].Soil, f.Faults)
	}
}
