package web

import (
	"fmt"
	"net/url"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"haulm/internal/app"
	"haulm/internal/diary"
)

func TestTheRunningSeasonInABrowser(t *testing.T) {
	desk := runningDesk(t)
	_, server := site(t, desk)
	b := openBrowser(t, server.URL)
	c, err := desk.DiaryContext()
	if err != nil {
		t.Fatal(err)
	}
	about := ""
	for _, s := range c.Standing {
		if s.Begun.Known() && !s.Cleared.Known() {
			about = aboutHref(s.Key)
		}
	}
	showAll(t, b, []string{"/today", "/diary", about, "/diary/1", gapIn(t, desk)})
}

// gapIn is the page of a gap for which something is offered; ground is cleared
// for one where there is none.
func gapIn(t *testing.T, desk *app.Desk) string {
	t.Helper()
	g, err := desk.Garden()
	if err != nil {
		t.Fatal(err)
	}
	offered := func(place string) bool {
		answer, err := desk.Fill(app.FillQuestion{Place: place, Day: noDay})
		return err == nil && len(answer.Offers) > 0
	}
	for _, place := range g.Places {
		if offered(place.Name) {
			return "/ground/fill?place=" + url.QueryEscape(place.Name)
		}
	}
	c, err := desk.DiaryContext()
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range c.Standing {
		if !s.Begun.Known() || s.Cleared.Known() || s.Begun == desk.Today() {
			continue
		}
		if _, err := desk.NoteEntry(diary.Entry{Kind: diary.Cleared, Day: desk.Today(), Place: s.Place, Crop: s.Crop, Planting: s.Key}); err != nil {
			t.Fatal(err)
		}
		if offered(s.Place) {
			return "/ground/fill?place=" + url.QueryEscape(s.Place)
		}
	}
	t.Fatal("nothing can be sown in any gap of the garden")
	return ""
}

// waitFor waits until what a page was asked to do is done.
func waitFor(t *testing.T, what string, done func() bool) {
	t.Helper()
	for end := time.Now().Add(20 * time.Second); !done(); time.Sleep(20 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("waited in vain for %s", what)
		}
	}
}

// small lists what can be touched on the page and is lower than 44 px, radio
// buttons and boxes with the words beside them; links in the run of a sentence
// are let be (WCAG 2.2, 2.5.8).
const small = `[...document.querySelectorAll("main button,main input:not([type=hidden],[type=checkbox],[type=radio]),main .choice,main .check,main select,main summary,nav a,main .tap,main .acts a,main .tick a")]
.filter(e => e.offsetParent && !e.closest(".visually-hidden") && e.getBoundingClientRect().height < 43.5).map(e => e.outerHTML.slice(0, 90))`

func TestAMorningByThumbWithoutScriptInABrowser(t *testing.T) {
	desk := runningDesk(t)
	_, server := site(t, desk)
	b := openBrowser(t, server.URL)
	for _, address := range []string{"/today", "/diary", "/diary/1", "/plan/rest", gapIn(t, desk)} {
		b.open(address, 360)
		b.fitsFingers(address, 360)
		if low := eval[[]string](b, small); len(low) > 0 {
			t.Errorf("%s: too low for a thumb: %q", address, low)
		}
	}
	b.open("/today", 360)
	if wrapped := eval[int](b, `[...document.querySelectorAll(".jobs .tick")].filter(f => f.offsetParent && f.offsetHeight > 60).length`); wrapped > 0 {
		t.Errorf("the buttons of %d jobs do not stand in one row", wrapped)
	}
	b.scriptOff()
	before, _ := desk.Diary()
	b.open("/today", 360)
	b.do(chromedp.Click(chromedp.CSS(".jobs .did")), chromedp.WaitVisible(chromedp.CSS(".wrote")))
	b.shot("today-wrote-360")
	if after, _ := desk.Diary(); len(after) != len(before)+1 {
		t.Fatalf("one tap wrote %d lines", len(after)-len(before))
	}
	b.do(chromedp.Click(chromedp.CSS(".wrote button")))
	waitFor(t, "the line to be taken back", func() bool { after, err := desk.Diary(); return err == nil && len(after) == len(before) })
	b.open("/today", 360) // anew, without the word of what was written
	b.do(chromedp.SendKeys(chromedp.ID("line"), "low 9.5\r"), chromedp.WaitVisible(chromedp.CSS(".wrote")))
	if e := lastEntry(t, desk); e.Kind != diary.Low {
		t.Errorf("the line was written as %+v", e)
	}
	b.open("/diary", 360)
	b.do(chromedp.SendKeys(chromedp.ID("line"), "flurbled the carrots\r"), chromedp.WaitVisible(chromedp.ID("line-fault")))
	b.shot("diary-fault-360")
	b.do(chromedp.Click(chromedp.CSS(".about a")), chromedp.WaitVisible(chromedp.CSS(".taps")))
	b.do(chromedp.Click(chromedp.CSS(`.verbs button[value=weeded]`)), chromedp.WaitVisible(chromedp.CSS(".wrote")))
	if e := lastEntry(t, desk); e.Kind != diary.Weeded {
		t.Errorf("two taps wrote %+v", e)
	}
}

func TestAStationIsFetchedInABrowser(t *testing.T) {
	n := newNCEI(t)
	n.hold = make(chan struct{})
	pages := fetchingSite(t, n)
	_, server := siteOf(t, pages)
	b := openBrowser(t, server.URL)
	b.open("/weather", 1280)
	b.do(chromedp.Click(chromedp.CSS("#nearer button")), chromedp.WaitVisible(chromedp.ID("doing")))
	for _, width := range []int{1280, 360} {
		b.do(chromedp.EmulateViewport(int64(width), 900))
		b.check("while fetching", width)
		b.shot(fmt.Sprintf("fetching-%d", width))
	}
	close(n.hold)
	b.await("the stations", `document.querySelector("[name=station]")`)
	for _, width := range []int{1280, 360} {
		b.do(chromedp.EmulateViewport(int64(width), 900))
		b.check("the stations", width)
		b.shot(fmt.Sprintf("stations-%d", width))
	}
	b.do(chromedp.Click(chromedp.CSS(`form[action="/weather/fetch/record"] button`)))
	b.await("the record", `document.querySelector("form[action='/weather/fetch/keep']")`)
	b.check("the record", 360)
	b.shot("fetched-360")
	b.do(chromedp.Click(chromedp.CSS(`form[action="/weather/fetch/keep"] button`)), chromedp.WaitVisible(chromedp.ID("seconds")))
	if g, _ := pages.desk.Garden(); g.WeatherRef != "EI000000001" {
		t.Errorf("the garden's weather is %q", g.WeatherRef)
	}
}
