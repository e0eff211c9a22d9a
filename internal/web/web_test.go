package web

import (
	"context"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"time"

	"haulm/internal/app"
	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/garden"
)

// today is the day on which the tests' garden stands.
func today() time.Time { return time.Date(2027, time.January, 4, 9, 0, 0, 0, time.UTC) }

var catalogue = sync.OnceValue(func() *crop.Catalogue {
	c, err := crop.Load()
	if err != nil {
		panic(err)
	}
	return c
})

// planned is the demonstration garden with a quick plan, made once.
var planned = sync.OnceValues(func() (*app.Desk, error) {
	desk := app.ShowDesk(garden.Demo(), catalogue(), today)
	_, err := desk.WatchPlan(context.Background(), app.WatchQuestion{From: calendar.FromTime(today()), Iterations: 4000, Seed: 1})
	return desk, err
})

func plannedDesk(t testing.TB) *app.Desk {
	t.Helper()
	desk, err := planned()
	if err != nil {
		t.Fatal(err)
	}
	return desk
}

// site serves the pages of a desk until the test ends.
func site(t testing.TB, desk *app.Desk) (*Pages, *httptest.Server) {
	t.Helper()
	return siteOf(t, New(desk, Options{}))
}

// siteOf serves pages until the test ends.
func siteOf(t testing.TB, pages *Pages) (*Pages, *httptest.Server) {
	t.Helper()
	server := httptest.NewServer(pages)
	t.Cleanup(func() { pages.Stop(context.Background()); server.Close() })
	return pages, server
}

// get asks for one page of the planned demonstration.
func get(t testing.TB, pages *Pages, address string) *httptest.ResponseRecorder {
	t.Helper()
	r := httptest.NewRequest(http.MethodGet, address, nil)
	r.Host = "localhost:8080"
	w := httptest.NewRecorder()
	pages.ServeHTTP(w, r)
	return w
}

func TestEveryPageOfThePlannedDemonstration(t *testing.T) {
	pages, _ := site(t, plannedDesk(t))
	for address, want := range map[string]string{
		"/plan":                  "portions</b> on the table",
		"/plan/planting/1":       "What to do",
		"/table":                 "Month by month",
		"/ground":                "What must stay off",
		"/weather":               "Estimated, not measured",
		"/crops":                 "Fabaceae",
		"/crops/leek":            "Every fortnight",
		"/garden":                "Keep the changes",
		"/garden/ready":          "is kept",
		"/garden/weather-help":   "GHCN-Daily",
		"/weather?at=-4":         "−4 °C",
		"/ground?day=2027-07-01": "1 July",
	} {
		w := get(t, pages, address)
		if w.Code != http.StatusOK || !strings.Contains(w.Body.String(), want) {
			t.Errorf("%s: status %d, wanted 200 and %q in it:\n%.400s", address, w.Code, want, w.Body)
		}
	}
}

// bareDesk is the demonstration garden before there is a plan.
func bareDesk(testing.TB) *app.Desk { return app.ShowDesk(garden.Demo(), catalogue(), today) }
