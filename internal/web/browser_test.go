package web

import (
	"context"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// browser is a Chromium for one test, without a window.
type browser struct {
	t   *testing.T
	ctx context.Context
	at  string // address of the site
}

// openBrowser starts Chromium on a site; the test is skipped where there is
// none.
func openBrowser(t *testing.T, address string) *browser {
	t.Helper()
	if testing.Short() {
		t.Skip("pages are shown in a browser in the long run only")
	}
	path, err := exec.LookPath("chromium")
	if err != nil {
		t.Skip("needs chromium to show the pages in: install it, or run the rest")
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox)
	all, stop := chromedp.NewExecAllocator(context.Background(), options...)
	tab, closeTab := chromedp.NewContext(all)
	late, cancel := context.WithTimeout(tab, 3*time.Minute)
	t.Cleanup(func() { cancel(); closeTab(); stop() })
	return &browser{t, late, address}
}

func (b *browser) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	if err := chromedp.Do(b.ctx, steps...); err != nil {
		b.t.Fatal(err)
	}
}

// open goes to a page in a window of that width.
func (b *browser) open(address string, width int64) {
	b.t.Helper()
	b.do(chromedp.EmulateViewport(width, 900), chromedp.Navigate(b.at+address))
}

// eval is what a script on the page gives.
func eval[T any](b *browser, script string) T {
	b.t.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](script))
	if err != nil {
		b.t.Fatalf("%s: %v", script, err)
	}
	return v
}

// await waits until a script gives true.
func (b *browser) await(what, script string) {
	b.t.Helper()
	for end := time.Now().Add(20 * time.Second); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		if v, err := chromedp.Run(b.ctx, chromedp.Evaluate[bool]("Boolean("+script+")")); err == nil && v {
			return
		}
	}
	b.t.Fatalf("waited in vain for %s", what)
}

// shot keeps a picture of the page where HAULM_SHOTS names a folder.
func (b *browser) shot(name string) {
	b.t.Helper()
	folder := os.Getenv("HAULM_SHOTS")
	if folder == "" {
		return
	}
	picture, err := chromedp.Run(b.ctx, chromedp.FullScreenshot(100))
	if err != nil {
		b.t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(folder, name+".png"), picture, 0o644); err != nil {
		b.t.Fatal(err)
	}
}

// fitsWidth fails where the page can be scrolled sideways.
func (b *browser) fitsWidth(address string, width int) {
	b.t.Helper()
	if got := eval[int](b, "document.documentElement.scrollWidth"); got > width {
		wide := eval[[]string](b, `[...document.querySelectorAll("main *,header *")].filter(e => e.getBoundingClientRect().right > innerWidth + 1 && !e.closest(".f-scroll")).slice(0, 5).map(e => e.outerHTML.slice(0, 120))`)
		b.t.Errorf("%s at %d px is %d px wide; too wide are:\n%s", address, width, got, strings.Join(wide, "\n"))
	}
}

// cutSelects lists the selects of the page of which a choice cannot be read: what
// is shown is wider than its box, or another choice would be and the box could
// still be wider. A copy of the select says how wide its text is with the arrow.
const cutSelects = `[...document.querySelectorAll("select")].filter(s => s.offsetParent).flatMap(s => {
	const width = options => {
		const copy = s.cloneNode(false);
		copy.append(...options.map(o => o.cloneNode(true)));
		for (const [key, value] of [["position", "absolute"], ["width", "max-content"], ["max-width", "none"], ["min-width", "0"]]) copy.style.setProperty(key, value, "important");
		s.after(copy);
		const needs = copy.getBoundingClientRect().width;
		copy.remove();
		return needs;
	};
	const has = s.getBoundingClientRect().width + 0.5, line = s.closest("form").getBoundingClientRect().width;
	const shown = width([...s.selectedOptions]), longest = width([...s.options]);
	return shown > has || longest > has && has < line ? [(s.id || s.name) + " shows " + JSON.stringify(s.selectedOptions[0]?.text) + " on " + Math.round(has) + " px: that needs " + Math.round(shown) + ", the longest choice " + Math.round(longest)] : [];
})`

// smallTicks lists the radio buttons and boxes to tick that are smaller to touch,
// with their label, than 24 px either way (WCAG 2.2, 2.5.8).
const smallTicks = `[...document.querySelectorAll("input[type=radio],input[type=checkbox]")].filter(e => e.offsetParent).map(e => [e, e.labels[0] ?? e])
.filter(([e, target]) => Math.min(target.getBoundingClientRect().height, target.getBoundingClientRect().width) < 24)
.map(([e, target]) => target.outerHTML.slice(0, 90) + " is " + target.getBoundingClientRect().width + " by " + target.getBoundingClientRect().height + " px")`

// fitsFingers opens all that can be opened, and fails where a choice cannot be
// read whole or a thing to tick is too small.
func (b *browser) fitsFingers(address string, width int) {
	b.t.Helper()
	eval[bool](b, `(window.shut = [...document.querySelectorAll("details:not([open])")]).forEach(d => d.open = true), true`)
	for what, script := range map[string]string{"choices cut off": cutSelects, "too small to tick": smallTicks} {
		if found := eval[[]string](b, script); len(found) > 0 {
			b.t.Errorf("%s at %d px: %s:\n%s", address, width, what, strings.Join(found, "\n"))
		}
	}
	eval[bool](b, `window.shut.forEach(d => d.open = false), true`)
}

// axe is the accessibility checker, or "" where HAULM_AXE does not name it.
func axe(t *testing.T) string {
	t.Helper()
	path := os.Getenv("HAULM_AXE")
	if path == "" {
		return ""
	}
	script, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("HAULM_AXE: %v", err)
	}
	return string(script)
}

// accessible fails for everything that the checker finds.
func (b *browser) accessible(checker, address string) {
	b.t.Helper()
	if _, err := chromedp.Run(b.ctx, chromedp.Evaluate[bool](checker+";true")); err != nil {
		b.t.Fatal(err)
	}
	found, err := chromedp.Run(b.ctx, chromedp.Evaluate[[]string](
		`axe.run().then(r => r.violations.map(v => v.id + ": " + v.help + "\n  " + v.nodes.slice(0, 4).map(n => n.html.slice(0, 160) + " | " + n.failureSummary.replaceAll("\n", " ")).join("\n  ")))`,
		chromedp.EvalAwaitPromise))
	if err != nil {
		b.t.Fatal(err)
	}
	for _, violation := range found {
		b.t.Errorf("%s: %s", address, violation)
	}
}

// shotName is an address as the name of a picture.
func shotName(address string) string {
	name := strings.Trim(url.PathEscape(strings.NewReplacer("/", "-", "?", "-", "=", "-", "&", "-").Replace(address)), "-")
	if name == "" {
		return "home"
	}
	return name
}
