package app

import (
	"cmp"
	"context"
	"encoding/json"
	"slices"

	"haulm/internal/calendar"
	"haulm/internal/diary"
	"haulm/internal/season"
)

// A diary that comes from another garden file names plantings of the plan kept
// there. What they began counts here for the planting of this garden's plan that
// has the crop, raised alike, in the place at about that time; or stands by
// itself. The lines are kept as they came: this is worked out whenever they are
// read, so that a plan made later is minded as well.

// foreign is a planting of another file's plan that the diary speaks of.
type foreign struct {
	key    string
	began  *diary.Entry // the first line that begins it; nil for none
	counts string       // key of the planting here that it counts as; "" = of none
	itself bool         // it stands by itself
}

// adopt lets an input know what the diary says of other files' plantings. It
// tells what it made of them, in order of their beginning.
func (d *Desk) adopt(in *season.Input) ([]foreign, error) {
	found, err := d.foreignIn(in)
	if err != nil || len(found) == 0 {
		return nil, err
	}
	free := freeToTake(in)
	as := map[string]string{}
	for i := range found {
		f := &found[i]
		switch p := f.fitting(free); {
		case f.began == nil:
		case p != nil:
			f.counts, as[f.key] = p.Key, p.Key
			free = slices.DeleteFunc(free, func(other *season.Planting) bool { return other.Key == p.Key })
		case in.Today-f.began.Day <= oldestOwnDays:
			if own, ok := d.unplanned(in, f); ok {
				f.itself, in.Plantings = true, append(in.Plantings, own)
			}
		}
	}
	for i := range in.Diary {
		if key, ok := as[in.Diary[i].Planting]; ok {
			in.Diary[i].Planting = key
		}
	}
	return found, nil
}

// oldestOwnDays is how old a planting may be that no plan knows: what is older
// is over, or the garden lists it among what stands.
const oldestOwnDays = 365

// foreignIn are the plantings that the diary names and no plan of this file has
// ever had.
func (d *Desk) foreignIn(in *season.Input) ([]foreign, error) {
	known := map[string]bool{}
	for i := range in.Plantings {
		known[in.Plantings[i].Key] = true
	}
	var out []foreign
	at := map[string]int{}
	for i := range in.Diary {
		e := &in.Diary[i]
		if e.Planting == "" || known[e.Planting] || season.NotedBy(e.Planting) != 0 {
			continue
		}
		no, there := at[e.Planting]
		if !there {
			no = len(out)
			at[e.Planting], out = no, append(out, foreign{key: e.Planting})
		}
		if out[no].began == nil && (e.Kind == diary.Sown || e.Kind == diary.Planted) {
			out[no].began = e
		}
	}
	if len(out) == 0 {
		return nil, nil
	}
	ever, err := d.everPlannedKeys()
	if err != nil {
		return nil, err
	}
	out = slices.DeleteFunc(out, func(f foreign) bool { return ever[f.key] })
	slices.SortStableFunc(out, func(a, b foreign) int { return cmp.Compare(a.day(), b.day()) })
	return out, nil
}

// day is when it was begun; None where no line says so.
func (f *foreign) day() calendar.Date {
	if f.began == nil {
		return calendar.None
	}
	return f.began.Day
}

// everPlannedKeys are the plantings of all plans that this file has had.
func (d *Desk) everPlannedKeys() (map[string]bool, error) {
	if d.file == nil {
		return nil, nil
	}
	plans, err := d.file.AllPlans(context.Background())
	if err != nil {
		return nil, err
	}
	out := map[string]bool{}
	for _, p := range plans {
		var saved savedPlan
		if json.Unmarshal(p.JSON, &saved) != nil {
			continue // an old plan that cannot be read names nothing
		}
		for _, s := range saved.Plantings {
			out[savedKey(s)] = true
		}
	}
	return out, nil
}

// freeToTake are the plantings of this garden that the diary has not begun yet,
// and those that the garden itself says stand.
func freeToTake(in *season.Input) []*season.Planting {
	begun := map[string]bool{}
	for _, k := range season.Known(*in) {
		begun[k.Key] = k.Begun.Known()
	}
	var out []*season.Planting
	for i := range in.Plantings {
		if p := &in.Plantings[i]; p.Stands || !begun[p.Key] {
			out = append(out, p)
		}
	}
	return out
}

// fitting is the planting that it counts as: begun within reach of the day, the
// nearest; nil for none.
func (f *foreign) fitting(free []*season.Planting) *season.Planting {
	_, routeKey, placeName, _, _, ok := season.SplitKey(f.key)
	if !ok || f.began == nil {
		return nil
	}
	var best *season.Planting
	for _, p := range free {
		if p.Crop.Key != f.began.Crop || p.Place.Name != cmp.Or(f.began.Place, placeName) {
			continue
		}
		route, err := p.Crop.Route(routeKey)
		if err != nil || route.Raised != p.Route.Raised || route.Vegetative != p.Route.Vegetative {
			continue
		}
		if away := f.away(p); away <= diary.ReachDays && (!p.Stands || away == 0) && (best == nil || away < f.away(best)) {
			best = p
		}
	}
	return best
}

// away is how many days lie between its beginning and that of another.
func (f *foreign) away(p *season.Planting) int {
	days := int(f.began.Day - p.Start)
	return max(days, -days)
}

// unplanned is a planting that stands by itself; false where this garden has no
// such crop or place.
func (d *Desk) unplanned(in *season.Input, f *foreign) (season.Planting, bool) {
	_, routeKey, placeName, _, _, ok := season.SplitKey(f.key)
	cr := d.Catalogue.Crop(f.began.Crop)
	place, there := in.Garden.Place(cmp.Or(f.began.Place, placeName))
	if !ok || cr == nil || !there {
		return season.Planting{}, false
	}
	route, err := cr.Route(routeKey)
	if err != nil {
		return season.Planting{}, false
	}
	p := season.Unplanned(cr, route, place, f.began)
	p.Key = f.key
	return p, true
}
