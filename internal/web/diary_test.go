package web

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"haulm/internal/diary"
)

func TestALineIsWrittenAlteredTakenOutAndUndone(t *testing.T) {
	desk := runningDesk(t)
	pages, _ := site(t, desk)
	w := post(t, pages, "/diary", url.Values{"line": {"rain 12 mm yesterday"}, "from": {"/diary"}})
	if w.Code != http.StatusSeeOther || !strings.HasPrefix(w.Header().Get("Location"), "/diary?wrote=") {
		t.Fatalf("writing: %d to %q\n%s", w.Code, w.Header().Get("Location"), faultsIn(w))
	}
	if page := get(t, pages, w.Header().Get("Location")).Body.String(); !strings.Contains(page, "Written: Rain 12 mm") || !strings.Contains(page, "Wednesday 23 June 2027") {
		t.Error("the diary does not show what was written")
	}
	e := lastEntry(t, desk)
	address := diaryHref(e.ID)
	page := get(t, pages, address).Body.String()
	change := fieldIn(page, "change")
	form := url.Values{"change": {change}, "day": {"2027-06-22"}, "kind": {"rain"}, "amount": {"14"}, "unit": {"mm"}, "text": {"in two showers"}}
	if w := post(t, pages, address, form); w.Code != http.StatusSeeOther {
		t.Fatalf("altering: %d\n%.3000s", w.Code, w.Body)
	}
	if e := lastEntry(t, desk); e.Amount != 14 || e.Text != "in two showers" || e.Day.String() != "2027-06-22" {
		t.Errorf("altered to %+v", e)
	}
	form.Set("amount", "99")
	if w := post(t, pages, address, form); w.Code != http.StatusConflict || !strings.Contains(w.Body.String(), "altered elsewhere") {
		t.Errorf("writing over what another phone altered: %d", w.Code)
	}
	if w := post(t, pages, address+"/remove", nil); w.Code != http.StatusSeeOther {
		t.Fatalf("taking out: %d", w.Code)
	}
	if w := get(t, pages, address); w.Code != http.StatusNotFound {
		t.Errorf("a line that was taken out is still there: %d", w.Code)
	}
	if w := post(t, pages, "/diary/undo", url.Values{"from": {"/diary"}}); w.Code != http.StatusSeeOther {
		t.Errorf("undoing: %d\n%s", w.Code, w.Body)
	}
	if e := lastEntry(t, desk); e.Amount != 14 {
		t.Errorf("undone to %+v", e)
	}
}

func TestABadLineIsKeptAndSaysWhatWasUnderstood(t *testing.T) {
	desk := runningDesk(t)
	pages, _ := site(t, desk)
	before, _ := desk.Diary()
	for line, says := range map[string]string{
		"":                           "the line is empty",
		"flurbled the carrots":       "what happened?",
		"picked 900 kg radish":       "",
		"sown carrots 2099-01-01":    "",
		"<script>alert(1)</script>":  "what happened?",
		strings.Repeat("very ", 600): "longer",
	} {
		w := post(t, pages, "/diary", url.Values{"line": {line}, "from": {"https://evil.example/"}})
		fault := strings.ToLower(faultsIn(w))
		if w.Code != http.StatusUnprocessableEntity || fault == "" || !strings.Contains(fault, strings.ToLower(says)) {
			t.Errorf("%.40q: status %d, fault %q", line, w.Code, fault)
		}
		if got := fieldIn(w.Body.String(), "line"); line != "" && len(line) < 100 && got == "" {
			t.Errorf("%.40q was not kept", line)
		}
		if strings.Contains(w.Body.String(), "<script>alert") || strings.Contains(w.Body.String(), "evil.example") {
			t.Errorf("%.40q came back as markup", line)
		}
	}
	if after, _ := desk.Diary(); len(after) != len(before) {
		t.Errorf("%d bad lines were written", len(after)-len(before))
	}
}

func TestTwoTaps(t *testing.T) {
	desk := runningDesk(t)
	pages, _ := site(t, desk)
	c, err := desk.DiaryContext()
	if err != nil {
		t.Fatal(err)
	}
	var about diary.Standing
	for _, s := range c.Standing {
		if s.Begun.Known() && !s.Cleared.Known() && s.Begun < c.Today.Add(-60) {
			about = s
		}
	}
	first := get(t, pages, "/diary").Body.String()
	href := strings.ReplaceAll(aboutHref(about.Key), "&", "&amp;")
	if !strings.Contains(first, strings.TrimSuffix(strings.Split(href, "%")[0], "")) {
		t.Errorf("the first tap is missing: %s", href)
	}
	second := get(t, pages, strings.TrimSuffix(aboutHref(about.Key), "#taps")).Body.String()
	if !strings.Contains(second, `value="weeded"`) {
		t.Fatal("the second tap is missing")
	}
	if w := post(t, pages, "/diary/tap", url.Values{"about": {about.Key}, "do": {"weeded"}}); w.Code != http.StatusSeeOther {
		t.Fatalf("tapping: %d %.2000s", w.Code, w.Body)
	}
	if e := lastEntry(t, desk); e.Kind != diary.Weeded || e.Planting != about.Key || e.Crop != about.Crop || e.Place != about.Place {
		t.Errorf("written: %+v", e)
	}
	for _, form := range []url.Values{{"about": {"nothing"}, "do": {"weeded"}}, {"about": {about.Key}, "do": {"flurbled"}}, {"about": {about.Key}, "do": {"picked"}, "amount": {"900"}, "unit": {"kg"}}} {
		if w := post(t, pages, "/diary/tap", form); w.Code < 400 || w.Code >= 500 {
			t.Errorf("%v: status %d", form, w.Code)
		}
	}
}

func TestEveryKindOfLineReadsWell(t *testing.T) {
	for _, c := range []struct {
		entry diary.Entry
		want  string
	}{
		{diary.Entry{Kind: diary.Picked, Amount: 800, Unit: diary.Gram, Crop: "courgette", Place: "Yard pots"}, "Picked 800 g courgette, Yard pots"},
		{diary.Entry{Kind: diary.Lost, Crop: "leek", Place: "Long bed", Cause: "slugs"}, "Lost leek, Long bed, to slugs"},
		{diary.Entry{Kind: diary.Note, Text: "first swallow"}, "Note: first swallow"},
		{diary.Entry{Kind: diary.Skipped, Crop: "leek", Place: "Long bed", Text: "weed 1 leek/module/Long bed/0/2027-03-01"}, "Waved away a job: weed leek, Long bed"},
	} {
		if got := entryWords(c.entry, catalogue()); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

func TestALongDiaryIsShownInPart(t *testing.T) {
	desk := runningDesk(t)
	pages, _ := site(t, desk)
	for i := range linesShown {
		if _, err := desk.NoteEntry(diary.Entry{Kind: diary.Note, Day: desk.Today(), Text: fmt.Sprint("line ", i)}); err != nil {
			t.Fatal(err)
		}
	}
	if page := get(t, pages, "/diary").Body.String(); !strings.Contains(page, "older lines") || strings.Count(page, "Alter<") != linesShown {
		t.Errorf("%d lines are shown", strings.Count(page, "Alter<"))
	}
	if page := get(t, pages, "/diary?all=yes").Body.String(); strings.Contains(page, "older lines") {
		t.Error("all lines were asked for")
	}
}

// A crop that fruits can be tapped as flowering; a leaf crop is not asked.
func TestFlowersAreTapped(t *testing.T) {
	desk := runningDesk(t)
	pages, _ := site(t, desk)
	c, err := desk.DiaryContext()
	if err != nil {
		t.Fatal(err)
	}
	asked := map[bool]int{}
	for _, s := range c.Standing {
		if !s.Begun.Known() || s.Cleared.Known() {
			continue
		}
		fruits := desk.Catalogue.Crop(s.Crop).Fruits()
		page := get(t, pages, strings.TrimSuffix(aboutHref(s.Key), "#taps")).Body.String()
		if got := strings.Contains(page, `name="do" value="flowering"`); got != fruits {
			t.Errorf("%s: flowering is offered: %v", s.Crop, got)
		}
		asked[fruits]++
		if fruits && asked[true] == 1 {
			if w := post(t, pages, "/diary/tap", url.Values{"about": {s.Key}, "do": {"flowering"}}); w.Code != http.StatusSeeOther {
				t.Fatalf("tapping: %d\n%.400s", w.Code, w.Body)
			}
			if e := lastEntry(t, desk); e.Kind != diary.Flowering || e.Planting != s.Key {
				t.Errorf("tapped to %+v", e)
			}
		}
	}
	if asked[true] == 0 || asked[false] == 0 {
		t.Fatalf("both sorts of crop are wanted: %v", asked)
	}
}
