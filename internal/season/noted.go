package season

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/diary"
	"haulm/internal/garden"
)

// NotedKey names a planting that nobody planned, by the entry that began it.
func NotedKey(entry int64) string { return fmt.Sprintf("%s%d", notedPrefix, entry) }

const notedPrefix = "noted/"

// NotedBy is the entry that began a planting which nobody planned; 0 of any
// other.
func NotedBy(key string) int64 {
	number, noted := strings.CutPrefix(key, notedPrefix)
	entry, err := strconv.ParseInt(number, 10, 64)
	if !noted || err != nil {
		return 0
	}
	return entry
}

// noted are the plantings that the diary began and the plan does not know:
// sown or planted, with crop and place, linked to nothing. Later entries are
// linked to them by NotedKey.
func noted(in *Input) []Planting {
	var out []Planting
	for _, e := range in.Diary {
		if p, ok := notedPlanting(in, e); ok {
			out = append(out, p)
		}
	}
	return out
}

func notedPlanting(in *Input, e diary.Entry) (Planting, bool) {
	if e.Planting != "" || e.Crop == "" || e.Place == "" || e.Kind != diary.Sown && e.Kind != diary.Planted {
		return Planting{}, false
	}
	cr := in.Catalogue.Crop(e.Crop)
	place, ok := in.Garden.Place(e.Place)
	if cr == nil || !ok || len(cr.Routes) == 0 || standsSince(in, e) {
		return Planting{}, false
	}
	p := Unplanned(cr, notedRoute(cr, e.Kind), place, &e)
	p.Key = NotedKey(e.ID)
	return p, true
}

// Unplanned is a planting that no plan at hand has, as far as the entry that
// began it tells it; it has no key yet, and its stretch is not known.
func Unplanned(cr *crop.Crop, route *crop.Route, place garden.Place, began *diary.Entry) Planting {
	area := rule("job.unplanned_m2")
	if began.Unit == diary.Count && route.PlantsPerM2 > 0 && (began.Kind == diary.Planted || route.Vegetative) {
		area = began.Amount / route.PlantsPerM2
	}
	p := Planting{
		Crop: cr, Class: "mid", Route: route, Place: place, AreaM2: area,
		Plants: int(math.Round(area * route.PlantsPerM2)), ScaleM2: area * rule("job.unplanned_share"),
		Start: began.Day, SetOut: calendar.None, Planned: noOdds, Clear: calendar.None, Stands: true,
	}
	if began.Kind == diary.Planted && route.Raised {
		p.SetOut = began.Day
	}
	return p
}

// standsSince says whether the garden itself has come to know what an entry
// began: its stretch was written down later.
func standsSince(in *Input, e diary.Entry) bool {
	for i := range in.Plantings {
		p := &in.Plantings[i]
		if p.Stands && p.Crop.Key == e.Crop && p.Place.Name == e.Place && (p.Start == e.Day || p.SetOut == e.Day) {
			return true
		}
	}
	return false
}

// notedRoute is the likeliest way of a beginning that names none: what was
// sown in its place came by a route for that, what was planted by one raised
// or by its sets and tubers.
func notedRoute(cr *crop.Crop, kind diary.Kind) *crop.Route {
	usual := cr.UsualRoute()
	fits := func(r *crop.Route) bool {
		if kind == diary.Sown {
			return !r.Vegetative && !r.Raised
		}
		return r.Vegetative || r.Raised
	}
	if fits(usual) {
		return usual
	}
	if first := cr.FirstRoute(fits); first != nil {
		return first
	}
	return usual
}
