package web

import (
	"net/url"
	"strings"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/cropping"
	"haulm/internal/season"
	"haulm/internal/unit"
)

// A plan reaches into the next year: its January sowings are not those of the
// January gone by.
func TestDaysOfTheNextYearNameIt(t *testing.T) {
	on := calendar.On
	none := calendar.None
	for _, c := range []struct {
		got, want string
	}{
		{dayIn(on(2027, 3, 1), 2027), "1 Mar"},
		{dayIn(on(2028, 1, 24), 2027), "24 Jan 2028"},
		{dayIn(on(2026, 8, 2), 2027), "2 Aug 2026"},
		{pickIn(season.Odds{P10: on(2027, 12, 20), P90: on(2028, 1, 9)}, 2027), "20 Dec – 9 Jan 2028"},
		{pickIn(season.Odds{P10: on(2027, 6, 3), P90: on(2027, 6, 3)}, 2027), "about 3 Jun"},
		{pickIn(season.Odds{P10: on(2028, 5, 29), P50: on(2028, 6, 8), P90: none}, 2027), "by 8 Jun 2028, 5 times in 10"},
		{pickIn(season.Odds{P10: on(2027, 6, 8), P50: none, P90: none}, 2027), "by 8 Jun, once in 10"},
		{pickIn(season.Odds{P10: none, P50: none, P90: none}, 2027), "–"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
	pages, _ := site(t, plannedDesk(t))
	planned, err := pages.desk.Planned()
	if err != nil {
		t.Fatal(err)
	}
	page, later := get(t, pages, "/plan").Body.String(), 0
	for _, p := range planned.Year.Plantings {
		if !p.Beyond && !cutShort(&p) && p.Clear.Year() > planned.Year.From.Year() {
			later++
			if want := p.Clear.Format("2 Jan 2006"); !strings.Contains(page, `data-label="Ground free">`+want) {
				t.Errorf("ground free on %s: its year is not named", want)
			}
		}
	}
	if later == 0 {
		t.Error("nothing of the plan of the tests reaches into its second year")
	}
}

func TestWhatTheSeasonCutShortGivesNothing(t *testing.T) {
	on := calendar.On
	p := cropping.Planting{Clear: on(2027, 5, 17), FirstPick: cropping.DateOdds{P10: on(2027, 6, 23), P90: on(2027, 7, 7)}}
	if !cutShort(&p) {
		t.Error("cleared five weeks before its first picking, and not cut short")
	}
	p.Clear = on(2027, 8, 30)
	if cutShort(&p) {
		t.Error("cut short although it was picked")
	}
	p.Clear, p.Beyond = on(2027, 5, 17), true
	if cutShort(&p) {
		t.Error("cut short although it stands on")
	}
}

// What is kept of a change to the plan is said at once, with its undo beside.
func TestAChangeOfThePlanIsSaidAndUndone(t *testing.T) {
	desk := runningDesk(t)
	pages, _ := site(t, desk)
	if page := get(t, pages, "/plan").Body.String(); strings.Contains(page, "is kept") {
		t.Error("a change is told that nobody made")
	}
	w := post(t, pages, "/plan/simpler", url.Values{"fewer": {"1"}})
	page := get(t, pages, w.Header().Get("Location")).Body.String()
	says := strings.Index(page, "The simpler plan is kept")
	if says < 0 || !strings.Contains(page[says:][:300], `action="/plan/undo"`) {
		t.Fatalf("%q does not say what was done, or has no undo beside it", w.Header().Get("Location"))
	}
	w = post(t, pages, "/plan/undo", nil)
	page = get(t, pages, w.Header().Get("Location")).Body.String()
	if says := strings.Index(page, "The plan before is back"); says < 0 || strings.Contains(page[says:][:200], `action="/plan/undo"`) {
		t.Errorf("%q does not say that it is undone", w.Header().Get("Location"))
	}
}

func TestYardsticksInTheHouseholdsUnits(t *testing.T) {
	for _, c := range []struct {
		of               string
		value            float64
		metric, imperial string
	}{ // 1 kg = 2.2046 lb, 1 m² = 10.764 sq ft
		{"kg/m2", 2.4, "2.4 kg/m²", "0.49 lb/sq ft"},
		{"min/m2", 43, "43 min/m²", "4 min/sq ft"},
		{"min/kg", 24, "24 min/kg", "10.9 min/lb"},
	} {
		if got := yardFigure(c.value, c.of, unit.Metric); got != c.metric {
			t.Errorf("%s: %q, want %q", c.of, got, c.metric)
		}
		if got := yardFigure(c.value, c.of, unit.Imperial); got != c.imperial {
			t.Errorf("%s: %q, want %q", c.of, got, c.imperial)
		}
	}
}
