package web

import (
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"haulm/internal/app"
	"haulm/internal/diary"
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
	if body := get(t, pages, w.Header().Get("Location")).Body.String(); !strings.Contains(body, "2028 begins") || !strings.Contains(body, "Open 2027 again") || !strings.Contains(body, "<h1>The end of 2027</h1>") || !strings.Contains(body, `href="/plan">Plan 2028</a></p></div>`) {
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

// A year that has not ended, and of which nothing is written, has nothing to
// close; its diary can be begun all the same.
func TestAYearOfWhichNothingIsWritten(t *testing.T) {
	pages, _ := site(t, keptDesk(t))
	if w := post(t, pages, "/garden/new", goodForm()); w.Code != http.StatusSeeOther {
		t.Fatalf("making the garden: %d", w.Code)
	}
	if page := get(t, pages, "/year").Body.String(); !strings.Contains(page, "so far</h1>") || strings.Contains(page, "See with what") {
		t.Error("an empty year is offered for closing")
	}
	if page := get(t, pages, "/plan").Body.String(); !strings.Contains(page, `<a href="/diary">Diary</a>`) || strings.Contains(page, `<a href="/today">`) {
		t.Error("without a plan the pages should name the diary, and no morning")
	}
	post(t, pages, "/diary", url.Values{"line": {"rain 3 mm"}})
	if page := get(t, pages, "/year").Body.String(); !strings.Contains(page, "See with what 2028 would begin") {
		t.Error("a year of which something is written cannot be closed")
	}
	if w := get(t, pages, "/diary"); w.Code != http.StatusOK || !strings.Contains(w.Body.String(), "Write what happened") {
		t.Errorf("the diary without a plan: %d", w.Code)
	}
}

func TestTheYearInABrowser(t *testing.T) {
	desk := runningDesk(t)
	for _, line := range []string{"picked 800 g leeks 3 March", "weeded long bed; 25 min"} {
		if _, err := desk.Note(line); err != nil {
			t.Fatal(err)
		}
	}
	pages, server := site(t, desk)
	morning, err := pages.morning()
	if err != nil {
		t.Fatal(err)
	}
	s := aloneOnItsGround(t, morning)
	if _, err := desk.NoteEntry(diary.Entry{Kind: diary.Lost, Day: morning.Today, Planting: s.Key, Crop: s.Crop.Key, Place: s.Place.Name, Amount: 20, Unit: diary.Percent, Cause: "slugs", Text: "5 min"}); err != nil {
		t.Fatal(err)
	}
	b := openBrowser(t, server.URL)
	showAll(t, b, []string{"/year", "/year/2026", "/year/next"})
	b.open("/year/next", 360)
	if low := eval[[]string](b, small); len(low) > 0 {
		t.Errorf("too low for a thumb: %q", low)
	}
}
