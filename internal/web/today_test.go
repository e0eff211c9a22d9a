package web

import (
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"haulm/internal/app"
	"haulm/internal/diary"
)

func lastEntry(t *testing.T, desk *app.Desk) diary.Entry {
	t.Helper()
	lines, err := desk.Diary()
	if err != nil || len(lines) == 0 {
		t.Fatalf("the diary: %d lines, %v", len(lines), err)
	}
	last := lines[0].Entry
	for _, line := range lines {
		if line.ID > last.ID {
			last = line.Entry
		}
	}
	return last
}

// jobsIn are the identifiers of the jobs that a page offers to tick off.
func jobsIn(page string) []string {
	var out []string
	for _, m := range regexp.MustCompile(`name="job" value="([^"]+)"`).FindAllStringSubmatch(page, -1) {
		out = append(out, m[1])
	}
	return out
}

func TestAMorningIsToldAndTickedOff(t *testing.T) {
	desk := runningDesk(t)
	pages, _ := site(t, desk)
	if w := get(t, pages, "/"); w.Header().Get("Location") != "/today" {
		t.Errorf("with a plan the first page leads to %q", w.Header().Get("Location"))
	}
	page := get(t, pages, "/today").Body.String()
	for _, want := range []string{"Thursday 24 June", "things for today", "Watch", "Ready to pick", "The ground holds", "What stands", `href="/calendar.ics"`, " in all; what matters most first"} {
		if !strings.Contains(page, want) {
			t.Errorf("the morning lacks %q", want)
		}
	}
	if five, _, _ := strings.Cut(page, "<details>"); strings.Count(five, `class="job"`) > jobsShown {
		t.Error("more than five things are asked for")
	}
	state, err := pages.morning()
	if err != nil {
		t.Fatal(err)
	}
	pick, other := "", ""
	for _, j := range state.Jobs {
		if j.Kind == "pick" && j.Due <= state.Today && pick == "" {
			pick = j.ID
		} else if j.TicksOff == diary.Weeded && j.Due <= state.Today && other == "" {
			other = j.ID
		}
	}
	if pick == "" || other == "" {
		t.Fatalf("the garden of the tests has nothing to pick or to weed: %q, %q", pick, other)
	}
	w := post(t, pages, "/today/done", url.Values{"job": {pick}, "amount": {"0,8"}, "unit": {"kg"}})
	if w.Code != http.StatusSeeOther {
		t.Fatalf("ticking off: %d %s", w.Code, w.Body)
	}
	e := lastEntry(t, desk)
	if e.Kind != diary.Picked || e.Kg() != 0.8 || e.Planting == "" || e.Crop == "" || e.Place == "" {
		t.Errorf("written: %+v", e)
	}
	after := get(t, pages, w.Header().Get("Location")).Body.String()
	if !strings.Contains(after, "Written: Picked 0.8 kg") || strings.Contains(strings.Join(jobsIn(after), "|"), pick) {
		t.Error("the page does not say what was written, or still asks for it")
	}
	if w := post(t, pages, "/today/done", url.Values{"job": {pick}}); w.Code != http.StatusNotFound || !strings.Contains(w.Body.String(), "no longer on the list") {
		t.Errorf("ticking off twice: %d", w.Code)
	}
	post(t, pages, "/today/skip", url.Values{"job": {other}})
	if strings.Contains(strings.Join(jobsIn(get(t, pages, "/today").Body.String()), "|"), other) {
		t.Error("a job waved away is asked for again")
	}
	post(t, pages, "/diary/undo", url.Values{"from": {"/today"}})
	if page := get(t, pages, "/today").Body.String(); !strings.Contains(page, other) {
		t.Error("undoing does not bring the job back")
	}
}

func TestBadAmountsAreSaid(t *testing.T) {
	desk := runningDesk(t)
	pages, _ := site(t, desk)
	state, err := pages.morning()
	if err != nil {
		t.Fatal(err)
	}
	pick := ""
	for _, j := range state.Jobs {
		if j.TicksOff == diary.Picked {
			pick = j.ID
		}
	}
	before, _ := desk.Diary()
	for _, c := range []struct{ amount, unit, says string }{
		{"some", "g", "not a number"}, {"900", "kg", "more than"}, {"5", "", "of what"}, {"3", "can", "no unit"}, {"-1", "kg", "above nought"}, {"NaN", "kg", "no number"},
	} {
		w := post(t, pages, "/today/done", url.Values{"job": {pick}, "amount": {c.amount}, "unit": {c.unit}})
		if w.Code != http.StatusBadRequest || !strings.Contains(w.Body.String(), c.says) {
			t.Errorf("%s %s: status %d, want 400 and %q in\n%.2000s", c.amount, c.unit, w.Code, c.says, w.Body)
		}
	}
	for form, want := range map[string]int{"place=Moon&amount=2&unit=can": 400, "place=Long+bed": 400, "place=Long+bed&amount=2&unit=can": 303} {
		v, _ := url.ParseQuery(form)
		if w := post(t, pages, "/today/water", v); w.Code != want {
			t.Errorf("watering %s: status %d, want %d", form, w.Code, want)
		}
	}
	if after, _ := desk.Diary(); len(after) != len(before)+1 {
		t.Errorf("%d lines were written, want the one sound watering", len(after)-len(before))
	}
}

func TestAShownGardenHasAMorningButNoDiary(t *testing.T) {
	pages, _ := site(t, plannedDesk(t))
	for _, address := range []string{"/today", "/diary"} {
		page := get(t, pages, address).Body.String()
		if !strings.Contains(page, "only shown") || strings.Contains(page, `action="/diary"`) || strings.Contains(page, `action="/today/done"`) {
			t.Errorf("%s offers to write where nothing is kept", address)
		}
	}
	if w := post(t, pages, "/diary", url.Values{"line": {"rain 5 mm"}}); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "only shown") {
		t.Errorf("writing all the same: %d", w.Code)
	}
}

func TestTodayBeforeThereIsAPlan(t *testing.T) {
	pages, _ := site(t, bareDesk(t))
	if w := get(t, pages, "/today"); w.Header().Get("Location") != "/plan" {
		t.Errorf("status %d to %q", w.Code, w.Header().Get("Location"))
	}
	if strings.Contains(get(t, pages, "/plan").Body.String(), `href="/today"`) {
		t.Error("a tab leads to a morning that there is not")
	}
}

func TestTheJobsAsACalendar(t *testing.T) {
	pages, _ := site(t, runningDesk(t))
	w := get(t, pages, "/calendar.ics")
	text := w.Body.String()
	if w.Code != 200 || !strings.HasPrefix(w.Header().Get("Content-Type"), "text/calendar") || !strings.HasPrefix(text, "BEGIN:VCALENDAR\r\n") || strings.Count(text, "BEGIN:VEVENT") < 5 {
		t.Errorf("status %d, %v\n%.300s", w.Code, w.Header(), text)
	}
	if again := get(t, pages, "/calendar.ics").Body.String(); again != text {
		t.Error("the same morning gives another calendar: subscribers would see changes that there are not")
	}
	if tasks := get(t, pages, "/calendar.ics?as=tasks").Body.String(); strings.Count(tasks, "BEGIN:VTODO") < 5 {
		t.Error("no tasks")
	}
}

func TestAGapIsOfferedCrops(t *testing.T) {
	desk := runningDesk(t)
	loseTheWellBed(t, desk) // a good plan leaves no ground free at midsummer
	pages, _ := site(t, desk)
	g, _ := desk.Garden()
	offered := 0
	for _, place := range g.Places {
		w := get(t, pages, "/ground/fill?place="+url.QueryEscape(place.Name))
		page := w.Body.String()
		if w.Code != 200 || !strings.Contains(page, "What can still go in?") {
			t.Fatalf("%s: status %d\n%.500s", place.Name, w.Code, page)
		}
		if strings.Contains(page, `class="offers"`) {
			offered++
			for _, want := range []string{"times in 10</b>. First picking ", "8 times in 10: over the weather of", "portion"} {
				if !strings.Contains(page, want) {
					t.Errorf("%s: an offer lacks %q", place.Name, want)
				}
			}
		} else if !strings.Contains(page, `class="empty"`) {
			t.Errorf("%s: neither an offer nor a reason", place.Name)
		}
	}
	if offered == 0 {
		t.Error("nothing is offered anywhere")
	}
	for address, want := range map[string]int{"/ground/fill?place=Moon": 404, "/ground/fill?place=Long+bed&from=x": 400, "/ground/fill?place=Long+bed&from=0&to=99999": 400} {
		if w := get(t, pages, address); w.Code != want {
			t.Errorf("%s: status %d, want %d", address, w.Code, want)
		}
	}
}

// BenchmarkMorning times the morning after something was written: everything
// that stands is grown anew. Aim: under 200 ms.
func BenchmarkMorning(b *testing.B) {
	desk := runningDesk(b)
	pages, _ := site(b, desk)
	for b.Loop() {
		pages.mornings.done = false
		get(b, pages, "/today")
	}
}
