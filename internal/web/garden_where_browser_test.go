package web

import (
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// valueOf is what stands in a field.
func valueOf(id string) string { return `document.getElementById("` + id + `").value` }

// check holds a page as it stands against the checker and the width.
func (b *browser) check(what string, width int) {
	b.t.Helper()
	b.fitsWidth(what, width)
	b.fitsFingers(what, width)
	if checker := axe(b.t); checker != "" {
		b.accessible(checker, what)
	}
}

// scriptOff turns script off in the tab.
func (b *browser) scriptOff() {
	b.t.Helper()
	b.do(chromedp.Navigate("about:blank"))
	if _, err := chromedp.Call(b.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true}); err != nil {
		b.t.Fatal(err)
	}
}

func TestAPlaceIsFoundWhileTypingInABrowser(t *testing.T) {
	_, server := site(t, keptDesk(t))
	b := openBrowser(t, server.URL)
	for _, width := range []int{1280, 360} {
		b.open("/", int64(width))
		eval[bool](b, `window.stays = true`)
		b.do(chromedp.SendKeys(chromedp.ID("where"), "newpo"))
		b.await("places", `document.querySelectorAll("#where-list [role=option]").length > 3`)
		b.press(kb.ArrowDown)
		b.press(kb.ArrowDown)
		b.press(kb.ArrowUp)
		active := eval[string](b, `document.getElementById(document.activeElement.getAttribute("aria-activedescendant"))?.textContent ?? "none"`)
		if eval[string](b, `document.querySelector("[aria-selected=true]").textContent`) != active || active == "none" {
			t.Errorf("the active place is %q", active)
		}
		if h := eval[float64](b, `Math.min(...[...document.querySelectorAll("[role=option]")].map(o => o.offsetHeight))`); h < 44 {
			t.Errorf("a place to touch is %g px high", h)
		}
		b.check("places while typing", width)
		b.shot(map[int]string{1280: "places-typing-1280", 360: "places-typing-360"}[width])
		b.press(kb.Escape)
		if !eval[bool](b, `document.getElementById("where-list").hidden && document.activeElement.id === "where"`) {
			t.Error("Escape should close the list and stay in the field")
		}
		b.press(kb.ArrowDown)
		b.await("the list again", `!document.getElementById("where-list").hidden`)
		b.press(kb.ArrowDown)
		b.press("\r")
		b.await("the figures", valueOf("latitude")+` !== "" && document.getElementById("where-list").hidden`)
		if !eval[bool](b, `window.stays === true`) {
			t.Error("taking a place sent the form")
		}
		if got := eval[string](b, valueOf("where")); got != eval[string](b, `document.querySelector("[name=where-done]").value`) {
			t.Errorf("the field holds %q, which would be looked up again", got)
		}
		b.check("a place taken", width)
		b.shot(map[int]string{1280: "places-taken-1280", 360: "places-taken-360"}[width])
	}
	b.do(chromedp.SetValue(chromedp.ID("where"), "zzzzqq"), chromedp.Click(chromedp.CSS(`button[value=find]`)))
	b.await("that there is none", `document.getElementById("where-status").textContent.startsWith("No place")`)
	b.do(chromedp.SetValue(chromedp.ID("where"), "53.4 N, 6.3 W"), chromedp.Click(chromedp.CSS(`button[value=find]`)))
	b.await("the figures", valueOf("latitude")+` === "53.4"`)
}

func TestAPlaceIsFoundWithoutScriptInABrowser(t *testing.T) {
	desk := keptDesk(t)
	_, server := site(t, desk)
	b := openBrowser(t, server.URL)
	b.scriptOff()
	b.open("/", 360)
	fill := func(id, text string) { b.do(chromedp.SendKeys(chromedp.ID(id), text)) }
	fill("name", "Back yard")
	fill("place-1-name", "Bed")
	fill("place-1-length", "3")
	fill("place-1-width", "1.2")
	fill("place-1-sun", "6")
	fill("where", "Newport")
	b.do(chromedp.Click(chromedp.CSS(`button[value=find]`)), chromedp.WaitVisible(chromedp.ID("places-found")))
	b.shot("places-no-script-360")
	b.do(chromedp.EmulateViewport(1280, 900))
	b.shot("places-no-script-1280")
	b.do(chromedp.Click(chromedp.CSS(`#places-found label:nth-of-type(3)`)), chromedp.Click(chromedp.CSS(`button[value=take]`)), chromedp.WaitNotPresent(chromedp.ID("places-found")))
	b.do(chromedp.Click(chromedp.CSS(`.keep button`)), chromedp.WaitVisible(chromedp.ID("seconds")))
	if g, err := desk.Garden(); err != nil || g.Site.LatDeg != 41.49 {
		t.Errorf("the garden: %+v, %v", g, err)
	}
}

// Find fills the figures in where there is one place only; the list would
// close unseen as soon as the field is left.
func TestFindTakesTheOnePlaceThereIsInABrowser(t *testing.T) {
	_, server := site(t, keptDesk(t))
	b := openBrowser(t, server.URL)
	b.open("/", 1280)
	b.do(chromedp.SendKeys(chromedp.ID("where"), "52.52 N, 2.95 W"), chromedp.Click(chromedp.CSS("button[value=find]")))
	b.await("the figures", valueOf("latitude")+` === "52.52"`)
	if got := eval[string](b, valueOf("longitude")+` + " " + `+valueOf("elevation")); got != "-2.95 267" {
		t.Errorf("filled in: %q", got)
	}
	b.open("/", 1280)
	b.do(chromedp.SendKeys(chromedp.ID("where"), "newport"), chromedp.Click(chromedp.CSS("button[value=find]")))
	b.await("places", `document.querySelectorAll("#where-list [role=option]").length > 3`)
	if got := eval[string](b, valueOf("latitude")); got != "" {
		t.Errorf("one of several places was taken: %q", got)
	}
}
