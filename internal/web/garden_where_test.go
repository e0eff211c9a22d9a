package web

import (
	"encoding/json"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"
)

var foundMark = regexp.MustCompile(`name="found" value="([^"]*)"`)

// fieldIn is the value of a field on a page.
func fieldIn(page, name string) string {
	m := regexp.MustCompile(`name="` + regexp.QuoteMeta(name) + `"[^>]* value="([^"]*)"`).FindStringSubmatch(page)
	if m == nil {
		return "no such field"
	}
	return m[1]
}

// again is the form as a browser would send it once more from a page: its
// place as shown, with the button pressed and the place chosen.
func again(form url.Values, page, do, found string) url.Values {
	for _, name := range []string{"where", "where-done", "where-seen"} {
		form.Set(name, fieldIn(page, name))
	}
	form.Set("do", do)
	form.Del("found")
	if found != "" {
		form.Set("found", found)
	}
	return form
}

func TestAPlaceIsFoundByNameWithoutScript(t *testing.T) {
	desk := keptDesk(t)
	pages, _ := site(t, desk)
	form := goodForm()
	for _, name := range []string{"latitude", "longitude", "elevation"} {
		form.Set(name, "")
	}
	form.Set("where", "Newport")
	form.Set("do", "find")
	w := post(t, pages, "/garden/new", form)
	page := w.Body.String()
	found := foundMark.FindAllStringSubmatch(page, -1)
	if w.Code != http.StatusOK || len(found) < 4 || len(found) > mostFound || faultsIn(w) != "" {
		t.Fatalf("status %d, %d places, faults %q", w.Code, len(found), faultsIn(w))
	}
	for _, want := range []string{"Newport, Wales, United Kingdom", "Newport, Rhode Island, United States", "m above the sea", "GeoNames", "CC BY 4.0", `value="Yard pots"`} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	w = post(t, pages, "/garden/new", again(form, page, "add place", "")) // another button keeps the list
	if len(foundMark.FindAllString(w.Body.String(), -1)) != len(found) {
		t.Error("adding a line lost the places found")
	}
	w = post(t, pages, "/garden/new", again(form, page, "save", ""))
	if !strings.Contains(faultsIn(w), "where: Choose one of the places found") {
		t.Errorf("keeping without a choice: status %d, faults %q", w.Code, faultsIn(w))
	}
	w = post(t, pages, "/garden/new", again(form, page, "take", found[0][1]))
	page = w.Body.String()
	if lat, lon, m := fieldIn(page, "latitude"), fieldIn(page, "longitude"), fieldIn(page, "elevation"); lat != "51.588" || lon != "-2.998" || m != "16" {
		t.Fatalf("filled in: %s, %s, %s", lat, lon, m)
	}
	if len(foundMark.FindAllString(page, -1)) > 0 || !strings.Contains(page, "filled in below") {
		t.Error("after the choice the list should be gone and the place told")
	}
	form.Set("latitude", "51.6") // a little up the hill, typed by hand
	form.Set("longitude", "-2.998")
	form.Set("elevation", "80")
	if w = post(t, pages, "/garden/new", again(form, page, "save", "")); w.Code != http.StatusSeeOther {
		t.Fatalf("keeping: status %d, faults %q", w.Code, faultsIn(w))
	}
	if g, _ := desk.Garden(); g.Site.LatDeg != 51.6 || g.Site.ElevM != 80 {
		t.Errorf("the garden lies at %+v", g.Site)
	}
}

func TestAChoiceAndKeepInOnePress(t *testing.T) {
	desk := keptDesk(t)
	pages, _ := site(t, desk)
	form := goodForm()
	form.Set("where", "Newport, US")
	w := post(t, pages, "/garden/new", form)
	if w.Code == http.StatusSeeOther {
		t.Fatal("a garden was kept although the place named was not looked up")
	}
	page := w.Body.String()
	found := foundMark.FindStringSubmatch(page)
	if found == nil {
		t.Fatalf("no place is offered: %s", faultsIn(w))
	}
	if w := post(t, pages, "/garden/new", again(form, page, "save", found[1])); w.Code != http.StatusSeeOther {
		t.Fatalf("status %d, faults %q", w.Code, faultsIn(w))
	}
	if g, _ := desk.Garden(); g.Site.LonDeg != -71.313 {
		t.Errorf("the garden lies at %+v", g.Site)
	}
}

func TestFiguresTypedByHandStandOverAChoice(t *testing.T) {
	desk := keptDesk(t)
	pages, _ := site(t, desk)
	form := goodForm()
	form.Set("where", "Newport")
	form.Set("do", "find")
	page := post(t, pages, "/garden/new", form).Body.String()
	found := foundMark.FindStringSubmatch(page)
	form.Set("latitude", "10")
	if w := post(t, pages, "/garden/new", again(form, page, "save", found[1])); w.Code != http.StatusSeeOther {
		t.Fatalf("status %d, faults %q", w.Code, faultsIn(w))
	}
	if g, _ := desk.Garden(); g.Site.LatDeg != 10 {
		t.Errorf("the garden lies at %+v", g.Site)
	}
}

func TestPlacesThatAreOneOrNone(t *testing.T) {
	pages, _ := site(t, keptDesk(t))
	for _, c := range []struct{ where, fault, lat string }{
		{"Cork", "", "51.898"},
		{"53.4 N, 6.3 W", "", "53.4"},
		{"53°24'N 6°18'W", "", "53.4"},
		{"asdfghjkl", "where: No place called", "53.4 N"},
		{" ", "where: Write the name", "53.4 N"},
		{"<script>", "where: No place called", "53.4 N"},
	} {
		form := goodForm()
		form.Set("where", c.where)
		form.Set("do", "find")
		w := post(t, pages, "/garden/new", form)
		if faults := faultsIn(w); (faults == "") != (c.fault == "") || !strings.Contains(faults, c.fault) {
			t.Errorf("%q: faults %q, want %q", c.where, faults, c.fault)
		}
		if got := fieldIn(w.Body.String(), "latitude"); got != c.lat {
			t.Errorf("%q: latitude %s, want %s", c.where, got, c.lat)
		}
		if strings.Contains(w.Body.String(), "<script>") {
			t.Errorf("%q came back as markup", c.where)
		}
	}
}

func TestPlacesAsData(t *testing.T) {
	pages, _ := site(t, bareDesk(t))
	for q, want := range map[string]struct {
		most, least int
		say         string
	}{
		"newport": {8, 4, ""}, "Cork": {1, 1, ""}, "": {0, 0, ""}, "asdfghjkl": {0, 0, "No place called"}, "53.4 -6.3": {1, 1, ""},
	} {
		var answer placesAnswer
		w := get(t, pages, "/places.json?q="+url.QueryEscape(q))
		if err := json.Unmarshal(w.Body.Bytes(), &answer); err != nil {
			t.Fatalf("%q: %v\n%s", q, err, w.Body)
		}
		if n := len(answer.Choices); n < want.least || n > want.most || !strings.HasPrefix(answer.Say, want.say) || (answer.Say == "") != (want.say == "") {
			t.Errorf("%q: %d places, says %q", q, n, answer.Say)
		}
		if len(answer.Choices) > 0 && !strings.Contains(answer.Attribution, "GeoNames") {
			t.Errorf("%q: nobody is named for the figures: %q", q, answer.Attribution)
		}
	}
}

// The form comes back with the figures of the place, which are to be looked at;
// it must not look as though the garden were kept.
func TestKeepingWithAPlaceJustFoundSaysThatNothingIsKept(t *testing.T) {
	pages, _ := site(t, keptDesk(t))
	w := post(t, pages, "/garden/new", url.Values{"do": {"save"}, "name": {"Fernlea"}, "where": {"52.52 N, 2.95 W"}})
	if w.Code != http.StatusOK || !strings.Contains(w.Body.String(), "Nothing is kept yet") {
		t.Errorf("%d, without a word that nothing is kept", w.Code)
	}
	w = post(t, pages, "/garden/new", url.Values{"do": {"find"}, "name": {"Fernlea"}, "where": {"52.52 N, 2.95 W"}})
	if strings.Contains(w.Body.String(), "Nothing is kept yet") {
		t.Error("Find does not ask for the garden to be kept")
	}
}
