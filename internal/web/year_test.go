package web

import (
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"haulm/internal/app"
	"haulm/internal/garden"
)

func TestTheYearSoFarAndTheNext(t *testing.T) {
	desk := runningDesk(t)
	pages, _ := site(t, desk)
	for address, want := range map[string]string{
		"/year":      "2027 so far",
		"/year/2027": "What to change",
		"/year/2026": "The diary says nothing of 2026",
		"/year/next": "Close 2027 and begin 2028",
		"/diary":     `href="/year"`,
	} {
		if w := get(t, pages, address); w.Code != http.StatusOK || !strings.Contains(w.Body.String(), want) {
			t.Errorf("%s: status %d, wanted %q in it:\n%.600s", address, w.Code, want, w.Body)
		}
	}
	for _, address := range []string{"/year/2099", "/year/soon", "/year/12"} {
		if w := get(t, pages, address); w.Code != http.StatusNotFound {
			t.Errorf("%s: status %d", address, w.Code)
		}
	}
	before, _ := desk.Garden()
	body := get(t, pages, "/year/next?year=2027").Body.String()
	mark := regexp.MustCompile(`name="lines" value="([^"]+)"`).FindStringSubmatch(body)
	if mark == nil {
		t.Fatal("the lines carry no mark")
	}
	if w := post(t, pages, "/year/next", url.Values{"year": {"2027"}, "lines": {"old"}, "grown": {"0"}}); w.Code != http.StatusConflict {
		t.Errorf("lines that were not seen: status %d", w.Code)
	}
	w := post(t, pages, "/year/next", url.Values{"year": {"2027"}, "lines": mark[1:], "grown": {"0"}})
	if w.Code != http.StatusSeeOther {
		t.Fatalf("closing: status %d\n%.500s", w.Code, w.Body)
	}
	after, _ := desk.Garden()
	if len(after.History) != len(before.History)+1 || len(after.Standing) != 0 {
		t.Errorf("one line was ticked; the garden has %d more of history and %d standing", len(after.History)-len(before.History), len(after.Standing))
	}
	if body := get(t, pages, w.Header().Get("Location")).Body.String(); !strings.Contains(body, "2028 begins") || !strings.Contains(body, "Open 2027 again") {
		t.Errorf("the closed year says %.800s", body)
	}
	if w := post(t, pages, "/year/undo", nil); w.Code != http.StatusSeeOther {
		t.Fatalf("opening again: status %d", w.Code)
	}
	back, _ := desk.Garden()
	if len(back.History) != len(before.History) || len(back.Standing) != len(before.Standing) {
		t.Error("the garden did not come back")
	}
	if _, err := desk.Planned(); err != nil {
		t.Errorf("the plan did not come back: %v", err)
	}
	if w := post(t, pages, "/year/undo", nil); w.Code != http.StatusConflict {
		t.Errorf("opening an open year: status %d", w.Code)
	}
}

func TestTheYearOfAGardenThatIsOnlyShown(t *testing.T) {
	pages, _ := site(t, app.ShowDesk(garden.Demo(), catalogue(), today))
	if w := get(t, pages, "/year"); w.Code != http.StatusOK || !strings.Contains(w.Body.String(), "The diary says nothing") || strings.Contains(w.Body.String(), "See with what") {
		t.Errorf("status %d\n%.500s", w.Code, w.Body)
	}
}

func TestTheYearInABrowser(t *testing.T) {
	desk := runningDesk(t)
	for _, line := range []string{"picked 800 g leeks 3 March", "lost 20 carrots long bed to slugs; 5 min", "weeded long bed; 25 min"} {
		if _, err := desk.Note(line); err != nil {
			t.Fatal(err)
		}
	}
	_, server := site(t, desk)
	b := openBrowser(t, server.URL)
	showAll(t, b, []string{"/year", "/year/2026", "/year/next"})
	b.open("/year/next", 360)
	if low := eval[[]string](b, small); len(low) > 0 {
		t.Errorf("too low for a thumb: %q", low)
	}
}
