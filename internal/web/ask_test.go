package web

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"
)

// answered asks a question on the page and waits for its answer.
func answered(t *testing.T, pages *Pages, form url.Values) string {
	t.Helper()
	if w := post(t, pages, "/plan/questions", form); w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/plan/questions#answer" {
		t.Fatalf("asking %v: status %d to %q: %.300s", form, w.Code, w.Header().Get("Location"), w.Body)
	}
	a, _ := pages.asker.now()
	select {
	case <-a.done:
	case <-time.After(2 * time.Minute):
		t.Fatal("no answer in two minutes")
	}
	return get(t, pages, "/plan/questions").Body.String()
}

func TestQuestionsAreAnsweredWithoutScript(t *testing.T) {
	pages, _ := site(t, plannedDesk(t))
	if page := get(t, pages, "/plan").Body.String(); !strings.Contains(page, `href="/plan/questions"`) {
		t.Error("the plan page does not lead to the questions")
	}
	if page := get(t, pages, "/plan/questions").Body.String(); strings.Contains(page, "http-equiv=\"refresh\"") || !strings.Contains(page, "Salad leaves") {
		t.Error("before a question the page asks again by itself, or offers no dishes")
	}
	page := answered(t, pages, url.Values{"ask": {"without"}, "without": {"courgettes", "kale"}, "seconds": {"1"}})
	for _, want := range []string{"What does it cost to do without courgettes and kale?", "Proven, at most", `value="kale" checked`} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q on the page", want)
		}
	}
	if strings.Contains(page, "data-busy") || strings.Contains(page, "refresh") {
		t.Error("the page still waits for the answer that it shows")
	}
	page = answered(t, pages, url.Values{"ask": {"worth"}, "seconds": {"1"}})
	for _, want := range []string{"One more m² beside", "The price of ground", "<svg"} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q on the page", want)
		}
	}
}

// A question that takes long is shown as under way, can be stopped, and gives way to
// the next one.
func TestQuestionsAreStoppedAndReplaced(t *testing.T) {
	pages, _ := site(t, plannedDesk(t))
	post(t, pages, "/plan/questions", url.Values{"ask": {"years"}, "seconds": {"300"}})
	page := get(t, pages, "/plan/questions").Body.String()
	for _, want := range []string{"data-busy", `<noscript><meta http-equiv="refresh" content="2">`, "/plan/questions/stop", "ask.js"} {
		if !strings.Contains(page, want) {
			t.Errorf("while it is looked into: no %q", want)
		}
	}
	first, _ := pages.asker.now()
	post(t, pages, "/plan/questions", url.Values{"ask": {"hours"}, "minutes": {"-60"}, "seconds": {"300"}})
	select {
	case <-first.done:
	case <-time.After(time.Minute):
		t.Error("the first question goes on beside the second")
	}
	if w := post(t, pages, "/plan/questions/stop", nil); w.Code != http.StatusSeeOther {
		t.Errorf("stopping: %d", w.Code)
	}
	page = get(t, pages, "/plan/questions").Body.String()
	if !strings.Contains(page, "an hour less a week") || strings.Contains(page, "data-busy") || !strings.Contains(page, "1 h a week less") {
		t.Error("stopped, the page does not answer with what was found")
	}
	pages.Stop(context.Background())
}

func TestQuestionsThatCannotBeAsked(t *testing.T) {
	pages, _ := site(t, plannedDesk(t))
	for _, c := range []struct {
		form url.Values
		want string
	}{
		{url.Values{"ask": {"why"}}, "there is no question called"},
		{url.Values{"ask": {"without"}}, "no dish was ticked"},
		{url.Values{"ask": {"with"}}, "no crop was named"},
		{url.Values{"ask": {"with"}, "with": {"kale"}, "m2": {"much"}}, "is not a number"},
		{url.Values{"ask": {"shortlist"}, "most": {"99"}}, "is not a number from 1 to 15"},
		{url.Values{"ask": {"years"}, "seconds": {"-3"}}, "is not a number from 1 to 300"},
	} {
		w := post(t, pages, "/plan/questions", c.form)
		if w.Code != http.StatusBadRequest || !strings.Contains(strings.ToLower(w.Body.String()), strings.ToLower(c.want)) {
			t.Errorf("%v: status %d, wanted 400 and %q", c.form, w.Code, c.want)
		}
	}
	page := answered(t, pages, url.Values{"ask": {"with"}, "with": {"leeks"}, "m2": {"400"}, "seconds": {"1"}})
	if !strings.Contains(page, "Nowhere in this garden can 400 m² of leeks") {
		t.Error("a question that has no answer does not say why")
	}
	bare, _ := site(t, bareDesk(t))
	if w := get(t, bare, "/plan/questions"); w.Code != http.StatusNotFound || !strings.Contains(w.Body.String(), "/plan") {
		t.Errorf("before a plan: status %d", w.Code)
	}
}

func TestQuestionsInABrowser(t *testing.T) {
	pages, server := site(t, plannedDesk(t))
	b := openBrowser(t, server.URL)
	b.open("/plan/questions", 360)
	b.do()
	eval[bool](b, `document.querySelector("#worth select").value = "5", document.querySelector("#worth button").click(), true`)
	b.await("an answer that comes by itself", `document.querySelector("#answer .f-figure") && !document.querySelector("#answer[data-busy]")`)
	answered(t, pages, url.Values{"ask": {"shortlist"}, "most": {"2"}, "seconds": {"1"}})
	showAll(t, b, []string{"/plan/questions"})
	answered(t, pages, url.Values{"ask": {"without"}, "without": {"carrots"}, "seconds": {"1"}})
	showAll(t, b, []string{"/plan/questions?of=carrots"})
}

func TestMinutesWords(t *testing.T) {
	for minutes, want := range map[float64]string{30: "half an hour more", -60: "an hour less", 120: "2 hours more", -45: "45 minutes less"} {
		if got := minutesWords(minutes); got != want {
			t.Errorf("%s: %q, want %q", fmt.Sprint(minutes), got, want)
		}
	}
}
