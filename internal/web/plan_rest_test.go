package web

import (
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"

	"haulm/internal/app"
	"haulm/internal/diary"
	"haulm/internal/season"
)

// loseTheWellBed writes down that everything in the Well bed is lost, and how
// many plantings that were.
func loseTheWellBed(t testing.TB, desk *app.Desk) int {
	t.Helper()
	return lose(t, desk, "Well bed")
}

// lose writes down that everything in some places is lost, and how many plantings
// that were.
func lose(t testing.TB, desk *app.Desk, places ...string) int {
	t.Helper()
	state, err := desk.Morning(app.TodayQuestion{Day: noDay})
	if err != nil {
		t.Fatal(err)
	}
	lost := 0
	for _, p := range state.Plantings {
		if !slices.Contains(places, p.Place.Name) || p.Stage == season.Waiting || p.Stage == season.Raising || p.Stage == season.Cleared {
			continue
		}
		if _, err := desk.NoteEntry(diary.Entry{Kind: diary.Lost, Day: desk.Today(), Place: p.Place.Name, Crop: p.Crop.Key, Planting: p.Key}); err != nil {
			t.Fatal(err)
		}
		lost++
	}
	return lost
}

var changeLine = regexp.MustCompile(`<li><b>(New|Moved|Dropped):</b>`)

func TestTheRestIsPlannedAgainShownAcceptedAndUndone(t *testing.T) {
	desk := runningDesk(t)
	// So much that a change is worth it whatever the plan was.
	if lose(t, desk, "Long bed", "Middle bed", "Well bed") < 3 {
		t.Fatal("too little stands in three beds at midsummer")
	}
	pages, _ := site(t, desk)
	before := get(t, pages, "/plan.json").Body.String()
	if page := get(t, pages, "/plan/rest"); page.Code != http.StatusOK || !strings.Contains(page.Body.String(), "Plan the rest again") {
		t.Fatalf("asking: %d", page.Code)
	}
	if w := post(t, pages, "/plan/rest", url.Values{}); w.Code != http.StatusSeeOther {
		t.Fatalf("planning the rest: %d %.300s", w.Code, w.Body)
	}
	shown := get(t, pages, "/plan/rest").Body.String()
	if len(changeLine.FindAllString(shown, -1)) == 0 || !strings.Contains(shown, "The table gets") || !strings.Contains(shown, "Keep the change") {
		t.Fatalf("after a loss nothing is worth changing:\n%.3000s", shown)
	}
	if now := get(t, pages, "/plan.json").Body.String(); now != before {
		t.Error("the plan changed before the change was accepted")
	}
	if w := post(t, pages, "/plan/rest/accept", nil); w.Header().Get("Location") != planAccepted {
		t.Fatalf("accepting: %d %.300s", w.Code, w.Body)
	}
	after := get(t, pages, "/plan.json").Body.String()
	if after == before {
		t.Error("the plan is as it was after accepting")
	}
	if page := get(t, pages, "/plan").Body.String(); strings.Contains(page, "no longer fit") {
		_, list, _ := strings.Cut(page, `id="unfit"`)
		t.Errorf("the plan just accepted does not fit its own garden: %.900s", list)
	}
	if w := post(t, pages, "/plan/rest/accept", nil); w.Code != http.StatusConflict {
		t.Errorf("accepting twice: %d", w.Code)
	}
	if w := post(t, pages, "/plan/undo", nil); w.Code != http.StatusSeeOther {
		t.Fatalf("undoing: %d", w.Code)
	}
	if now := get(t, pages, "/plan.json").Body.String(); plantingsOf(now) != plantingsOf(before) {
		t.Error("the plan before did not come back")
	}
}

// plantingsOf is the part of a plan's JSON that tells its plantings.
func plantingsOf(text string) string {
	_, rest, _ := strings.Cut(text, `"plantings"`)
	list, _, _ := strings.Cut(rest, `"weeks"`)
	return list
}

func TestTheTableTellsTheRunningYear(t *testing.T) {
	desk := runningDesk(t)
	if _, err := desk.Note("picked 6 kg broad beans"); err != nil {
		t.Log(err) // the garden may have none: the page must stand all the same
	}
	pages, _ := site(t, desk)
	page := get(t, pages, "/table").Body.String()
	for _, want := range []string{"From today a middling year brings", "today, 24 Jun", "Left of the upright line"} {
		if !strings.Contains(page, want) {
			t.Errorf("the table's page lacks %q", want)
		}
	}
}

func TestAChangedGardenKeepsItsPlan(t *testing.T) {
	desk := runningDesk(t)
	pages, _ := site(t, desk)
	g, err := desk.Garden()
	if err != nil {
		t.Fatal(err)
	}
	changed := *g
	changed.Places = append(changed.Places[:0:0], g.Places...)
	for i := range changed.Places {
		if changed.Places[i].Name == "Long bed" {
			changed.Places[i].SunHours = 3
		}
	}
	if err := desk.SaveGarden(&changed); err != nil {
		t.Fatal(err)
	}
	page := get(t, pages, "/plan").Body.String()
	if !strings.Contains(page, "no longer fit") || !strings.Contains(page, "Long bed") || !strings.Contains(page, "the place has 3 hours of sun") {
		t.Errorf("the page does not say what no longer fits:\n%.3000s", page)
	}
	if !strings.Contains(page, `href="/plan/rest"`) {
		t.Error("re-planning is not offered")
	}
	if err := desk.SaveGarden(g); err != nil {
		t.Fatal(err)
	}
	if page := get(t, pages, "/plan").Body.String(); strings.Contains(page, "no longer fit") {
		t.Error("the garden is as it was, and yet plantings are said not to fit")
	}
}

func TestTheRunningPlanInABrowser(t *testing.T) {
	desk := runningDesk(t)
	loseTheWellBed(t, desk)
	pages, server := site(t, desk)
	b := openBrowser(t, server.URL)
	post(t, pages, "/plan/rest", url.Values{})
	showAll(t, b, []string{"/plan/rest", "/table", "/plan"})
}
