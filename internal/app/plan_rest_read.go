package app

import (
	"math"
	"slices"

	"haulm/internal/calendar"
	"haulm/internal/cropping"
	"haulm/internal/diary"
	"haulm/internal/garden"
	"haulm/internal/season"
)

// restReader sorts the season's plantings into what stands, what is over and
// what is ahead.
type restReader struct {
	s       *restStart
	in      *season.Input
	planned *Planned
	told    map[string]*cropping.Planting // the plan's plantings by season key
	known   map[string]diary.Standing     // what the diary says of each
	assumed map[string]bool
}

func newRestReader(s *restStart, in *season.Input, planned *Planned) *restReader {
	r := &restReader{s: s, in: in, planned: planned, told: map[string]*cropping.Planting{}, assumed: map[string]bool{}}
	for i := range planned.Year.Plantings {
		p := &planned.Year.Plantings[i]
		r.told[season.Key(p.Crop.Key, p.Route.Key, p.Place, p.FromCM, p.Start)] = p
	}
	r.learn()
	return r
}

func (r *restReader) learn() {
	r.known = map[string]diary.Standing{}
	for _, k := range season.Known(*r.in) {
		r.known[k.Key] = k
	}
}

func savedKey(p cropping.Saved) string {
	return season.Key(p.Crop, p.Route, p.Place, p.FromCM, p.Start)
}

// assume takes what the plan began before today and the diary does not know as
// begun, set out and picked as planned.
func (r *restReader) assume() {
	for i := range r.in.Plantings {
		p := &r.in.Plantings[i]
		if p.Stands || p.Start >= r.s.day.Monday() || r.known[p.Key].Begun.Known() {
			continue
		}
		r.assumed[p.Key] = true
		p.Stands = true
		if p.SetOut.Known() && p.SetOut > r.s.day {
			p.SetOut = calendar.None // it is still indoors
		}
		if told := r.told[p.Key]; told != nil {
			r.pickAsPlanned(told, p.ScaleM2)
		}
	}
	r.learn()
}

// leaveUnbegun leaves out what is still to be begun: the plan's layout grows
// that itself.
func (r *restReader) leaveUnbegun() {
	r.in.Plantings = slices.DeleteFunc(r.in.Plantings, func(p season.Planting) bool { return !r.known[p.Key].Begun.Known() })
}

// pickAsPlanned takes the mean year's pickings before today as picked.
func (r *restReader) pickAsPlanned(p *cropping.Planting, scaleM2 float64) {
	for _, c := range p.Courses {
		if c.Failed() {
			continue
		}
		for _, picked := range c.Pickings {
			if day := p.Start + (picked.Monday - c.Start); day < r.s.day.Monday() {
				r.pick(p.Crop.Dish, day, picked.KgPerM2*scaleM2/float64(len(p.Courses)))
			}
		}
	}
}

func (r *restReader) pick(dish string, day calendar.Date, kg float64) {
	r.s.question.Picked = append(r.s.question.Picked, cropping.Picked{Dish: dish, Portion: cropping.Portion{Day: day, Kg: kg}})
}

// read fills in the question from the season's morning.
func (r *restReader) read(standing []season.Standing) {
	stands := map[string]*season.Standing{}
	for i := range standing {
		p := &standing[i]
		if p.Rest() == nil || r.overAsPlanned(p.Key) {
			continue
		}
		stands[p.Key] = p
		r.s.question.Given = append(r.s.question.Given, givenOf(p))
	}
	r.readPicked()
	indoors := map[string]bool{} // gone there
	for _, p := range r.s.saved.Plantings {
		key := savedKey(p)
		switch k := r.known[key]; {
		case k.Begun.Known():
			cut, held := r.overtaken(p, k, stands[key])
			if indoors[key] = !held; held {
				r.s.begun = append(r.s.begun, cut)
			}
		case p.Start >= r.s.day.Monday():
			r.s.ahead = append(r.s.ahead, p)
		default:
			r.s.missed = append(r.s.missed, p)
		}
	}
	r.s.question.Begun = r.s.begun
	r.readOver(stands, indoors)
	r.readEnded(stands)
}

// overAsPlanned says whether a planting taken as done is over by the plan.
func (r *restReader) overAsPlanned(key string) bool {
	told := r.told[key]
	return r.assumed[key] && told != nil && told.Clear <= r.s.day
}

func givenOf(p *season.Standing) cropping.Given {
	g := cropping.Given{
		Crop: p.Crop, Class: p.Class, Route: p.Route, Place: p.Place.Name, FromCM: p.FromCM, ToCM: p.ToCM, Plants: p.Plants,
		Start: p.Begun, SetOut: calendar.None, FirstPick: cropping.DateOdds(p.FirstPick), Words: p.Words,
	}
	if p.Route.Raised {
		g.SetOut = p.Out
	}
	for _, rest := range p.Rest() {
		out := cropping.Rest{Past: rest.Past, Clear: rest.Clear, Failed: rest.Failed}
		for _, picked := range rest.Pickings {
			out.Pickings = append(out.Pickings, cropping.Portion{Day: picked.Monday, Kg: picked.Kg})
		}
		g.Rests = append(g.Rests, out)
	}
	return g
}

// readOver tells rotation what was begun within the plan and is over, but not what
// never came onto the ground.
func (r *restReader) readOver(stands map[string]*season.Standing, indoors map[string]bool) {
	year := calendar.SeasonYear(r.s.saved.From, r.in.Garden.Site.South())
	for _, k := range season.Known(*r.in) {
		if k.Begun.Known() && stands[k.Key] == nil && !indoors[k.Key] && k.ToCM > k.FromCM {
			r.s.question.Stood = append(r.s.question.Stood, garden.Grown{Place: k.Place, FromCM: k.FromCM, ToCM: k.ToCM, Crop: k.Crop, Year: year})
		}
	}
}

// readPicked takes what the diary says was picked within the plan.
func (r *restReader) readPicked() {
	for _, e := range r.in.Diary {
		kg := e.Kg()
		if e.Kind != diary.Picked || math.IsNaN(kg) || e.Day < r.s.saved.From || e.Day > r.s.day {
			continue
		}
		key := e.Crop
		if key == "" {
			key = r.known[e.Planting].Crop
		}
		if cr := r.in.Catalogue.Crop(key); cr != nil {
			r.pick(cr.Dish, e.Day, kg)
		}
	}
}

// overtaken is a begun planting in the plan's words, with where the season
// left the plan: ground free sooner, plants out later. Plants that could go out
// sooner wait for their ground, as planned. It is false for what was gone before
// it held any.
func (r *restReader) overtaken(p cropping.Saved, k diary.Standing, stands *season.Standing) (cropping.Saved, bool) {
	told := r.told[savedKey(p)]
	if told == nil {
		return p, true
	}
	if stands != nil && told.SetOut.Known() && stands.Out.Known() && stands.Out >= r.s.day && stands.Out.Monday() > told.SetOut {
		p.SetOut = stands.Out.Monday()
	}
	if free := r.freeOn(k, stands); free.Known() && (free < told.Clear || p.SetOut != 0) && !r.overAsPlanned(k.Key) {
		p.Until = free
	}
	if gone := k.Cleared.Known() || stands == nil; gone && p.Until != 0 {
		return goneIndoors(*r.in, p, told.SetOut)
	}
	return p, true
}

// freeOn is the Monday from which the planting's ground is free; None where
// that is not sooner than can be seen.
func (r *restReader) freeOn(k diary.Standing, stands *season.Standing) calendar.Date {
	switch {
	case k.Cleared.Known():
		return k.Cleared.Add(6).Monday()
	case stands == nil:
		return r.s.day.Monday()
	}
	given := givenOf(stands)
	return r.planned.Lay.FreeFrom(&given, r.s.day)
}

// readEnded does the same for what stood when the plan began.
func (r *restReader) readEnded(stands map[string]*season.Standing) {
	for _, s := range r.in.Garden.Standing {
		cr, err := r.in.Catalogue.Find(s.Crop)
		if err != nil {
			continue // the season has refused it already
		}
		route, err := cr.Route(s.Route)
		if err != nil {
			continue
		}
		k := r.known[season.Key(cr.Key, route.Key, s.Place, s.FromCM, s.Started)]
		if free := r.freeOn(k, stands[k.Key]); free.Known() {
			r.s.ended = append(r.s.ended, cropping.Saved{
				Crop: s.Crop, Class: s.Class, Route: s.Route, Place: s.Place, FromCM: s.FromCM, ToCM: s.ToCM, Start: s.Started, Until: free,
			})
		}
	}
}
