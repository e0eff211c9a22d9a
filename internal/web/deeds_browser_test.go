package web

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// focused describes what has the focus.
const focused = `(e => e.id || e.textContent.trim().slice(0, 40) || e.getAttribute("aria-label"))(document.activeElement)`

func (b *browser) press(keys string) {
	b.t.Helper()
	b.do(chromedp.KeyEvent(keys))
}

func TestKeyboardWalkInABrowser(t *testing.T) {
	_, server := site(t, plannedDesk(t))
	b := openBrowser(t, server.URL)
	b.open("/plan", 1280)
	b.press("\t")
	if got := eval[string](b, focused); got != "Skip to the page" {
		t.Fatalf("the first tab leads to %q", got)
	}
	if left := eval[float64](b, `document.activeElement.getBoundingClientRect().left`); left < 0 {
		t.Error("the skip link cannot be seen when it has the focus")
	}
	b.press("\r")
	if got := eval[string](b, focused); got != "main" {
		t.Errorf("skipping leads to %q", got)
	}
	b.open("/plan", 1280)
	var walk []string
	for range 60 {
		b.press("\t")
		walk = append(walk, eval[string](b, focused))
		if eval[bool](b, `Boolean(document.activeElement.closest(".hf"))`) {
			break
		}
		if eval[string](b, `getComputedStyle(document.activeElement).outlineStyle`) == "none" {
			t.Errorf("%q has the focus and does not show it", walk[len(walk)-1])
		}
	}
	for _, want := range []string{"Haulm", "Today", "Plan", "Table", "Ground", "Weather", "Crops", "Diary", "Garden"} {
		if !strings.Contains(strings.Join(walk, "\n"), want) {
			t.Errorf("the walk passes by %s: %q", want, walk)
		}
	}
	if !eval[bool](b, `Boolean(document.activeElement.closest(".hf a"))`) {
		t.Fatalf("the walk never comes to a block of the figure: %q", walk)
	}
	first := eval[string](b, `document.activeElement.getAttribute("href")`)
	b.press(kb.ArrowRight)
	next := eval[string](b, `document.activeElement.getAttribute("href")`)
	if next == first || !strings.HasPrefix(next, "/plan/planting/") {
		t.Errorf("the arrow leads from %s to %s", first, next)
	}
	b.press("\r")
	b.await("the planting's page", `document.querySelector(".steps")`)
}

func TestLinesComeAtOnceInABrowser(t *testing.T) {
	_, server := site(t, keptDesk(t))
	b := openBrowser(t, server.URL)
	b.open("/", 1280)
	lines := `document.querySelectorAll("[data-lines=place]>fieldset").length`
	eval[bool](b, `window.stays = true`)
	b.do(chromedp.Click(chromedp.CSS(`button[value="add place"]`)))
	b.await("a second line", lines+` === 2`)
	if !eval[bool](b, `window.stays === true && document.activeElement.name === "place.name"`) {
		t.Error("the page was loaded anew, or the focus is not in the new line")
	}
	ids := eval[bool](b, `(a => new Set(a).size === a.length)([...document.querySelectorAll("[id]")].map(e => e.id))`)
	if !ids {
		t.Error("two things share an id")
	}
	b.do(chromedp.Click(chromedp.CSS(`button[value="drop place 1"]`)))
	b.await("one line again", lines+` === 1`)
	if v := eval[string](b, `document.querySelector("[data-lines=place] button[value^=drop]").value`); v != "drop place 1" {
		t.Errorf("the line left over is called %q", v)
	}
}

func TestFirstRunWithoutScriptInABrowser(t *testing.T) {
	desk := keptDesk(t)
	_, server := site(t, desk)
	b := openBrowser(t, server.URL)
	b.do(chromedp.Navigate("about:blank"))
	if _, err := chromedp.Call(b.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true}); err != nil {
		t.Fatal(err)
	}
	b.open("/", 360)
	fill := func(id, text string) { b.do(chromedp.SendKeys(chromedp.ID(id), text)) }
	fill("name", "Back yard")
	fill("latitude", "53")
	fill("longitude", "-6")
	fill("place-1-name", "Bed")
	b.do(chromedp.Click(chromedp.CSS(`button[value="add place"]`)), chromedp.WaitVisible(chromedp.ID("place-2-name")))
	b.shot("no-script-two-lines-360")
	b.do(chromedp.Click(chromedp.CSS(`.keep button`)), chromedp.WaitVisible(chromedp.ID("faults")))
	b.shot("no-script-faults-360")
	b.do(chromedp.EmulateViewport(1280, 900))
	b.shot("no-script-faults-1280")
	fill("elevation", "20")
	fill("place-1-length", "3")
	fill("place-1-width", "1.2")
	fill("place-1-sun", "6")
	b.do(chromedp.Click(chromedp.CSS(`.keep button`)), chromedp.WaitVisible(chromedp.ID("seconds")))
	b.shot("ready-1280")
	b.do(chromedp.Click(chromedp.CSS(`.search button`)), chromedp.WaitVisible(chromedp.CSS(`.progress`)))
	b.do(chromedp.Click(chromedp.CSS(`.progress form button`)), chromedp.WaitVisible(chromedp.CSS(`.plantings`)))
	if _, err := desk.Planned(); err != nil {
		t.Error(err)
	}
}

func TestThePlanGrowsInABrowser(t *testing.T) {
	pages, server := site(t, bareDesk(t))
	b := openBrowser(t, server.URL)
	b.open("/plan", 1280)
	b.do(chromedp.SetValue(chromedp.ID("seconds"), "300"), chromedp.Click(chromedp.CSS(`.search button`)))
	b.await("the drawing", `document.querySelector("#drawing svg")`)
	b.shot("progress-1280")
	b.do(chromedp.EmulateViewport(360, 900))
	b.fitsWidth("/plan/progress", 360)
	b.shot("progress-360")
	b.do(chromedp.EmulateViewport(1280, 900), chromedp.Focus(chromedp.CSS(".progress form button")))
	go pages.planner.halt() // as the button of another tab would
	b.await("the plan", `location.pathname === "/plan" && document.querySelector(".plantings")`)
}

func TestNightAndPrintInABrowser(t *testing.T) {
	_, server := site(t, plannedDesk(t))
	b := openBrowser(t, server.URL)
	night := emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "dark"}}}
	b.open("/plan", 1280)
	if _, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, night); err != nil {
		t.Fatal(err)
	}
	checker := axe(t)
	for _, address := range []string{"/plan", "/table", "/crops/leek", "/garden"} {
		b.open(address, 1280)
		if checker != "" {
			b.accessible(checker, address+" at night")
		}
		b.shot("night-" + shotName(address))
	}
	if _, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}); err != nil {
		t.Fatal(err)
	}
	b.open("/plan", 760)
	if eval[string](b, `getComputedStyle(document.querySelector("nav")).display`) != "none" {
		t.Error("the printed plan carries the navigation")
	}
	b.shot("print-plan")
	b.open("/plan", 688) // A4 less its margins
	for what, script := range map[string]string{
		"the day it was printed":             `document.querySelector(".where .nowrap").offsetWidth > 0`,
		"a planting's line across the sheet": `new Set([...document.querySelectorAll(".plantings tbody tr")[0].querySelectorAll("td:not(.odds)")].map(e => e.getBoundingClientRect().top)).size === 1`,
		"the reasons":                        `document.querySelector(".plantings details li").getBoundingClientRect().height > 0`,
		"nothing but what is read":           `[...document.querySelectorAll("button,input,select,.turns a")].every(e => e.getClientRects().length === 0)`,
	} {
		if !eval[bool](b, script) {
			t.Errorf("the printed plan lacks %s", what)
		}
	}
	pdf, err := chromedp.Run(b.ctx, chromedp.PrintToPDF())
	if err != nil || len(pdf) < 1000 {
		t.Fatalf("printing: %v, %d bytes", err, len(pdf))
	}
	if folder := os.Getenv("HAULM_SHOTS"); folder != "" {
		_ = os.WriteFile(filepath.Join(folder, "plan.pdf"), pdf, 0o644)
	}
	b.open("/today", 688)
	if !eval[bool](b, `(jobs => jobs.length > 0 && jobs.every(e => e.querySelector(".why").getBoundingClientRect().height > 0))([...document.querySelectorAll(".job")])`) {
		t.Error("the morning on paper has no jobs, or one has lost its reason")
	}
}
