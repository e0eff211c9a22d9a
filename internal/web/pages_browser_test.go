package web

import (
	"fmt"
	"testing"

	"haulm/internal/app"
)

// shownPages are all pages of a garden with a plan.
var shownPages = []string{
	"/today", "/diary", "/plan", "/plan/planting/1", "/table", "/ground", "/ground/fill?place=Long+bed", "/weather", "/weather/fetch", "/weather?at=-4", "/crops", "/crops?name=bean", "/crops/leek",
	"/crops/leek?day=31&month=2", "/garden", "/garden/ready", "/garden/weather-help", "/nowhere",
	"/plan/simpler", "/plan/questions",
}

func TestPagesInABrowser(t *testing.T) {
	_, server := site(t, plannedDesk(t))
	b := openBrowser(t, server.URL)
	showAll(t, b, shownPages)
}

func TestPagesWithoutAPlanInABrowser(t *testing.T) {
	_, server := site(t, bareDesk(t))
	b := openBrowser(t, server.URL)
	showAll(t, b, []string{"/plan", "/table", "/ground"})
}

func TestFirstRunInABrowser(t *testing.T) {
	_, server := site(t, app.ShowDesk(nil, catalogue(), today))
	b := openBrowser(t, server.URL)
	showAll(t, b, []string{"/", "/crops", "/crops/leek"})
}

// showAll looks at pages in both widths.
func showAll(t *testing.T, b *browser, addresses []string) {
	checker := axe(t)
	for _, address := range addresses {
		for _, width := range []int{1280, 360} {
			b.open(address, int64(width))
			b.fitsWidth(address, width)
			if checker != "" {
				b.accessible(checker, fmt.Sprintf("%s at %d px", address, width))
			}
			b.shot(fmt.Sprintf("%s-%s-%d", t.Name(), shotName(address), width))
			b.fitsFingers(address, width)
		}
	}
}

func TestAccessibilityIsChecked(t *testing.T) {
	if axe(t) == "" {
		t.Skip("needs axe-core: set HAULM_AXE to the path of axe.min.js")
	}
}
