package web

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"
)

func sendHours(t testing.TB, pages *Pages, name, content string) *httptest.ResponseRecorder {
	t.Helper()
	return postFile(t, pages, "/weather/hours", nil, "hours", name, content)
}

// dampHours are so many days of damp, mild hours that end the day before the
// pages' own.
func dampHours(days int) string {
	text := "date,temp_c,rh_pct,rain_mm\n"
	for h := range days * 24 {
		text += midsummer().Truncate(24*time.Hour).AddDate(0, 0, -days).Add(time.Duration(h+1)*time.Hour).Format("2006-01-02T15:04") + ",13,95,0\n"
	}
	return text
}

// Hours given on the page are told of there and gone by on the morning's page
// at once; taken away, blight is told by the day again.
func TestHoursAreKeptGoneByAndTakenAway(t *testing.T) {
	desk := runningDesk(t)
	if _, err := desk.Note("planted maincrop potatoes Long bed 2027-03-20"); err != nil {
		t.Fatal(err)
	}
	pages, _ := site(t, desk)
	byHour := func() bool {
		t.Helper()
		page := get(t, pages, "/today").Body.String()
		return strings.Contains(page, "Hutton criteria")
	}
	if byHour() {
		t.Fatal("blight is told by the hour before any was given")
	}
	w := sendHours(t, pages, "hut.csv", dampHours(6)+"2027-06-10T05:00,99,95,0\n")
	if w.Code != http.StatusSeeOther {
		t.Fatalf("keeping hours: %d\n%s", w.Code, faultsIn(w))
	}
	page := get(t, pages, strings.TrimSuffix(w.Header().Get("Location"), "#hours")).Body.String()
	if !strings.Contains(page, "144 hours with temperature and humidity are kept, of ") || !strings.Contains(page, "from hut.csv") || !strings.Contains(page, "1 value of the file cannot be and was left out.") {
		t.Errorf("the page does not tell of the hours:\n%s", partOf(page, `id="hours"`, "</section>"))
	}
	if !byHour() {
		t.Error("the morning does not go by the hours")
	}
	if w := post(t, pages, "/weather/hours/drop", nil); w.Code != http.StatusSeeOther || byHour() {
		t.Errorf("taking the hours away: %d, by the hour %v", w.Code, byHour())
	}
	if w := post(t, pages, "/weather/hours/drop", nil); w.Code != http.StatusConflict {
		t.Errorf("taking away what is not there: %d", w.Code)
	}
}

func partOf(text, from, to string) string {
	_, rest, _ := strings.Cut(text, from)
	part, _, _ := strings.Cut(rest, to)
	return part
}

func TestHoursThatCannotServeSayWhy(t *testing.T) {
	pages, _ := site(t, runningDesk(t))
	for says, content := range map[string]string{
		"No file was chosen":                "",
		"this is no hourly weather":         "date,tmin_c,tmax_c\n2027-06-01,8,17\n",
		"no hour with both temperature and": "date,temp_c,rain_mm\n2027-06-01T01:00,9,0\n",
	} {
		w := sendHours(t, pages, "hut.csv", content)
		if page := w.Body.String(); w.Code != http.StatusUnprocessableEntity || !strings.Contains(page, says) || !strings.Contains(page, "Nothing was changed.") || !strings.Contains(page, `id="hours-fault"`) {
			t.Errorf("%q: status %d, %s", says, w.Code, faultsIn(w))
		}
	}
	old := strings.ReplaceAll(dampHours(3), "2027-", "2021-")
	if w := sendHours(t, pages, "hut.csv", old); w.Code != http.StatusSeeOther {
		t.Fatalf("old hours: %d", w.Code)
	}
	if page := get(t, pages, "/weather").Body.String(); !strings.Contains(page, "They do not reach the last 10 days") {
		t.Error("the page does not say that old hours are of no use")
	}
}

func TestHoursInABrowser(t *testing.T) {
	pages, server := site(t, runningDesk(t))
	if w := sendHours(t, pages, "hut.csv", dampHours(6)); w.Code != http.StatusSeeOther {
		t.Fatal(w.Code)
	}
	b := openBrowser(t, server.URL)
	for _, width := range []int64{360, 1200} {
		b.open("/weather", width)
		b.fitsWidth("/weather", int(width))
		eval[bool](b, `(() => { const d = new DataTransfer(); d.items.add(new File(["nothing"], "hut.csv")); document.querySelector("#hours-file").files = d.files; document.querySelector("#hours-file").form.querySelector("button").click(); return true })()`)
		b.await("the fault beside the form", `document.querySelector("#hours-fault")`)
		b.fitsWidth("/weather", int(width))
		b.shot(fmt.Sprintf("weather-hours-%d", width))
		if checker := axe(t); checker != "" {
			b.accessible(checker, "/weather")
		}
	}
}
