package web

import (
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"testing"

	"haulm/internal/garden"
)

// One click keeps a planting, bans a dish, and each is taken back.
func TestAPlantingIsKeptAndADishIsBanned(t *testing.T) {
	desk := runningDesk(t)
	pages, _ := site(t, desk)
	planned, err := desk.Planned()
	if err != nil {
		t.Fatal(err)
	}
	no := -1
	for i := range planned.Year.Plantings {
		if p := &planned.Year.Plantings[i]; !p.Stands && p.Start > desk.Today() {
			no = i
			break
		}
	}
	if no < 0 {
		t.Fatal("nothing is ahead at midsummer")
	}
	ahead := planned.Year.Plantings[no]
	form := url.Values{"planting": {strconv.Itoa(no + 1)}}
	if w := post(t, pages, "/plan/keep", form); w.Code != http.StatusSeeOther {
		t.Fatalf("keeping: %d %.300s", w.Code, w.Body)
	}
	g, _ := desk.Garden()
	if len(g.Keeps) != 1 || g.Keeps[0].Crop != ahead.Crop.Key || g.Keeps[0].Start != ahead.Start {
		t.Fatalf("kept: %+v", g.Keeps)
	}
	if page := get(t, pages, plantingHref(no)).Body.String(); !strings.Contains(page, "You keep this planting") {
		t.Error("the planting's page does not say that it is kept")
	}
	if w := post(t, pages, "/plan/ban", form); w.Code == http.StatusSeeOther {
		t.Error("a dish was banned where a planting of it is kept")
	}
	if w := post(t, pages, "/plan/let-go", form); w.Code != http.StatusSeeOther {
		t.Fatalf("letting go: %d", w.Code)
	}
	if w := post(t, pages, "/plan/ban", form); w.Header().Get("Location") != "/plan#unfit" {
		t.Fatalf("banning: %d %.300s", w.Code, w.Body)
	}
	g, _ = desk.Garden()
	if !containsLock(g, garden.Lock{Dish: ahead.Crop.Dish, Place: ahead.Place}) {
		t.Errorf("banned: %+v", g.Locks)
	}
	if page := get(t, pages, "/plan").Body.String(); !strings.Contains(page, "are kept out of that place") {
		t.Error("the plan does not say what the ban takes out")
	}
	if w := post(t, pages, "/garden/undo", nil); w.Code != http.StatusSeeOther {
		t.Fatalf("undoing: %d", w.Code)
	}
	if page := get(t, pages, "/plan").Body.String(); strings.Contains(page, "are kept out of that place") {
		t.Error("the ban was undone and yet holds")
	}
	if w := post(t, pages, "/plan/keep", url.Values{"planting": {"900"}}); w.Code != http.StatusNotFound {
		t.Errorf("keeping a planting that is not there: %d", w.Code)
	}
}

func containsLock(g *garden.Garden, want garden.Lock) bool {
	for _, l := range g.Locks {
		if l == want {
			return true
		}
	}
	return false
}

func TestASimplerPlanIsTakenAndUndone(t *testing.T) {
	desk := runningDesk(t)
	pages, _ := site(t, desk)
	before, err := desk.Planned()
	if err != nil {
		t.Fatal(err)
	}
	page := get(t, pages, "/plan/simpler").Body.String()
	if !strings.Contains(page, "1 fewer") || !strings.Contains(page, "Take it") {
		t.Fatalf("no simpler plan is offered: %.2000s", page)
	}
	if w := post(t, pages, "/plan/simpler", url.Values{"fewer": {"2"}}); w.Code != http.StatusSeeOther {
		t.Fatalf("taking: %d %.300s", w.Code, w.Body)
	}
	after, err := desk.Planned()
	if err != nil {
		t.Fatal(err)
	}
	if got, want := len(after.Result.Plantings), len(before.Result.Plantings)-2; got != want {
		t.Errorf("%d plantings are left, want %d", got, want)
	}
	if w := post(t, pages, "/plan/simpler", url.Values{"fewer": {"many"}}); w.Code == http.StatusSeeOther {
		t.Error("\"many\" was taken for a number")
	}
	if w := post(t, pages, "/plan/undo", nil); w.Code != http.StatusSeeOther {
		t.Fatalf("undoing: %d", w.Code)
	}
	if back, err := desk.Planned(); err != nil || len(back.Result.Plantings) != len(before.Result.Plantings) {
		t.Errorf("back: %v", err)
	}
}

// What the form does not show is not lost by it: kept plantings and stores.
func TestTheGardensFormKeepsWhatIsSettled(t *testing.T) {
	f := formOf(&garden.Garden{
		Name: "A", WeatherRef: builtIn, Household: garden.Household{People: 2, Experience: "some"},
		Places: []garden.Place{{Name: "B", Kind: garden.Bed, LengthM: 4, WidthM: 1.2, SunHours: 6, RunsTo: "SE"}},
		Keeps:  []garden.Keep{{Place: "B", FromCM: 0, ToCM: 100, Crop: "leek", Start: noDay}},
	}, catalogue(), true)
	before := &garden.Garden{WeatherRef: builtIn, InStore: []garden.InStore{{Dish: "onions", Kg: 3}}}
	g, ok := f.build(before)
	if !ok {
		t.Fatalf("faults: %+v", f.Faults)
	}
	if len(g.Keeps) != 1 || g.Keeps[0].Crop != "leek" || !g.Keeps[0].Always() || len(g.InStore) != 1 || g.Places[0].RunsTo != "SE" {
		t.Errorf("the form brought back %+v, stores %+v, place %+v", g.Keeps, g.InStore, g.Places[0])
	}
}
