package web

import (
	"html"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"haulm/internal/diary"
	"haulm/internal/garden"
	"haulm/internal/season"
)

// aloneOnItsGround is a planting that grows where nothing else stands.
func aloneOnItsGround(t *testing.T, state *season.State) *season.Standing {
	t.Helper()
	grows := func(s *season.Standing) bool {
		return s.Begun.Known() && s.Place.Kind != garden.Pots && (s.Stage == season.Picking || s.Stage == season.Growing)
	}
	for i := range state.Plantings {
		s, alone := &state.Plantings[i], true
		for j := range state.Plantings {
			other := &state.Plantings[j]
			alone = alone && (i == j || !other.Begun.Known() || other.Place.Name != s.Place.Name || other.ToCM <= s.FromCM || other.FromCM >= s.ToCM)
		}
		if alone && grows(s) {
			return s
		}
	}
	t.Fatal("nothing of the garden of the tests grows alone on its ground")
	return nil
}

// A loss leaves bare ground, and the page that says it is written leads on to
// what can go into it.
func TestALossLeadsToItsGround(t *testing.T) {
	desk := runningDesk(t)
	pages, _ := site(t, desk)
	state, err := pages.morning()
	if err != nil {
		t.Fatal(err)
	}
	lost := aloneOnItsGround(t, state)
	tap := func(do, amount, unit string) string {
		w := post(t, pages, "/diary/tap", url.Values{"about": {lost.Key}, "do": {do}, "amount": {amount}, "unit": {unit}})
		if w.Code != http.StatusSeeOther {
			t.Fatalf("%s: %d %s", do, w.Code, w.Body)
		}
		return get(t, pages, w.Header().Get("Location")).Body.String()
	}
	const words = "What can go into its ground"
	if page := tap("picked", "800", "g"); strings.Contains(page, words) {
		t.Error("a picking is taken for ground that came free")
	}
	if page := tap("lost", "30", string(diary.Percent)); strings.Contains(page, words) {
		t.Error("a part that is lost is taken for the whole")
	}
	page := tap("lost", "", "")
	m := regexp.MustCompile(`href="([^"]+)">` + words).FindStringSubmatch(page)
	if m == nil || !strings.Contains(page, `href="/plan/rest">Plan the rest again`) {
		t.Fatalf("the page leads nowhere:\n%s", page[strings.Index(page, "Written"):][:600])
	}
	address := html.UnescapeString(m[1])
	fill := get(t, pages, address)
	if text := fill.Body.String(); fill.Code != http.StatusOK || !strings.Contains(text, ` of `+lost.Place.Name+`. `) {
		t.Errorf("%s: %d\n%s", address, fill.Code, text[strings.Index(text, "<h1>"):])
	}
}

// After an undo the same button takes back one line more, and must say so.
func TestASecondUndoIsNamed(t *testing.T) {
	pages, _ := site(t, runningDesk(t))
	w := post(t, pages, "/diary", url.Values{"line": {"rain 7 mm"}, "from": {"/today"}})
	if page := get(t, pages, w.Header().Get("Location")).Body.String(); !strings.Contains(page, ">Undo</button>") || strings.Contains(page, "the one before") {
		t.Error("what was just written is not undone by the plain button")
	}
	w = post(t, pages, "/diary/undo", url.Values{"from": {"/today"}})
	if page := get(t, pages, w.Header().Get("Location")).Body.String(); !strings.Contains(page, ">Take back the one before as well</button>") || strings.Contains(page, ">Undo</button>") {
		t.Error("the button does not say that it takes back another line")
	}
}
