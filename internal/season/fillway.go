package season

import (
	"cmp"
	"math"
	"slices"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/garden"
	"haulm/internal/ground"
	"haulm/internal/grow"
	"haulm/internal/kitchen"
)

// way is one way of filling a gap with a crop: by a route and a kind, sown now
// or as plants set out now.
type way struct {
	Planting
	want    garden.Want
	perKg   float64 // portions
	deeds   deeds
	ready   bool
	track   *grow.Track
	courses []scenario // at the garden's middling pace
}

// given is what one course of a way comes to.
type given struct {
	outlook
	portions float64 // that the table would eat
	value    float64 // of those, where weeks are short
}

// best is the best way of filling the gap with a crop, of those that do not
// fail too often.
func (f *filler) best(cr *crop.Crop, want garden.Want) (Offer, bool) {
	all := f.ways(cr, want)
	slices.SortStableFunc(all, func(a, b Offer) int { return cmp.Compare(b.Value, a.Value) })
	for i := range all {
		o := &all[i]
		if f.tellDoubt(o); o.Chance >= rule("fill.least_success_share") {
			return *o, true
		}
	}
	return Offer{}, false
}

// ways are the offers of one crop by all its routes and kinds: sown now, or
// for raised plants set out now, where somebody has them.
func (f *filler) ways(cr *crop.Crop, want garden.Want) []Offer {
	perKg, err := kitchen.PortionsPerKg(cr.Portion)
	if err != nil {
		return nil
	}
	var out []Offer
	for i := range cr.Routes {
		route := &cr.Routes[i]
		layout := ground.Plants(f.place, ground.SpacingOf(route), float64(f.gap.ToCM-f.gap.FromCM))
		if layout.Plants == 0 || !f.inSeason(route) {
			continue
		}
		for _, class := range cr.Classes {
			for _, ready := range []bool{false, true} {
				if ready && !route.Raised {
					continue
				}
				if o, ok := f.try(&way{Planting: f.planting(cr, class.Name, route, layout.Plants), want: want, perKg: perKg, ready: ready}); ok {
					out = append(out, o)
				}
			}
		}
	}
	return out
}

// inSeason says whether today lies within the route's usual months; plants
// raised elsewhere may be older than their sowing season.
func (f *filler) inSeason(route *crop.Route) bool {
	return route.InSeason(f.in.Today, f.in.Garden.Site.South())
}

// planting is so many plants on the gap, begun today, of the yield that the
// garden has taught.
func (f *filler) planting(cr *crop.Crop, class string, route *crop.Route, plants int) Planting {
	area := ground.StretchM2(f.place, f.gap.FromCM, f.gap.ToCM, plants, route.PlantsPerM2)
	return Planting{
		Crop: cr, Class: class, Route: route, Place: f.place, AreaM2: area, Plants: plants,
		ScaleM2: area * f.hand * f.in.Lessons.Habit(cr, class).Yield, Start: f.in.Today, SetOut: calendar.None,
	}
}

// try grows one way through every year, at the garden's middling pace.
func (f *filler) try(w *way) (Offer, bool) {
	w.deeds = newDeeds()
	w.deeds.begun = f.in.Today
	if w.ready {
		w.deeds.out = f.in.Today
	}
	track, err := f.track(&w.Planting)
	if err != nil {
		return Offer{}, false
	}
	if w.ready && track.Pace(f.splice.on(0, f.in.Today.Add(-7)), 7) < 0.2 {
		return Offer{}, false // nothing set out now would move
	}
	w.track = track.Paced(f.in.Lessons.Habit(w.Crop, w.Class).Pace)
	w.courses = f.courses(w.track, &w.Planting, w.deeds)
	return f.judge(w)
}

// judge turns a way into an offer; not where even at a middling pace it fails
// too often.
func (f *filler) judge(w *way) (Offer, bool) {
	if len(w.courses) < fewestYears {
		return Offer{}, false
	}
	var all []outlook
	var frees, eaten, values []float64
	for i := range w.courses {
		c := &w.courses[i].course
		g := f.gives(w, c, 1)
		if !math.IsInf(g.first, 1) {
			frees = append(frees, dayNumber(c.Clear))
		}
		all, eaten, values = append(all, g.outlook), append(eaten, g.portions), append(values, g.value)
	}
	p := &w.Planting
	o := Offer{
		CropKey: p.Crop.Key, Name: p.name(), RouteKey: p.Route.Key, Class: p.Class, Free: oddsOf(frees).P50, Plants: p.Plants, Clumps: p.clumps(),
		Kg: grow.Quantile(column(all, kgOf), 0.5), Portions: grow.Quantile(eaten, 0.5), Value: mean(values), Ready: w.ready, way: w,
	}
	for _, c := range p.Crop.Cautions {
		o.Cautions = append(o.Cautions, c.Situation+": "+c.Precaution)
	}
	return o, o.Value >= 1 && chanceOf(all) >= rule("fill.least_success_share")
}

// tellDoubt fills in what an offer does over the weather years and over what
// the book leaves in doubt: how often it makes it, when, and between which
// amounts it lies 8 times in 10.
func (f *filler) tellDoubt(o *Offer) {
	w := o.way
	doubt := w.track.Doubt()
	doubt.GrowthLog *= f.in.Lessons.Habit(w.Crop, w.Class).Doubt
	if w.ready {
		doubt.EmergenceLog = 0
	}
	yieldSD, fifths := f.weightLogSD(w.Crop), grow.Fifths()
	var all []outlook
	var eaten []float64
	visit := func(c *grow.Course) {
		for _, z := range fifths {
			g := f.gives(w, c, math.Exp(z*yieldSD))
			if eaten = append(eaten, g.portions); z == 0 {
				all = append(all, g.outlook)
			}
		}
	}
	for _, z := range fifths {
		courses := w.courses
		if z != 0 {
			courses = f.courses(w.track.Paced(doubt.At(z)), &w.Planting, w.deeds)
		}
		for i := range courses {
			visit(&courses[i].course)
		}
	}
	o.Chance, o.FirstPick = chanceOf(all), oddsOf(column(all, firstOf))
	low, high := weightSpan(column(all, kgOf), yieldSD)
	o.LowKg, o.HighKg = math.Min(low, o.Kg), math.Max(high, o.Kg)
	o.LowPortions, o.HighPortions = math.Min(grow.Quantile(eaten, 0.1), o.Portions), math.Max(grow.Quantile(eaten, 0.9), o.Portions)
}

// out is when raised plants go out in a middling year.
func (w *way) out() calendar.Date {
	return middleDay(w.courses, func(c *grow.Course) calendar.Date { return c.SetOut })
}

// gives is what a course brings before the ground is wanted again, at a factor
// on the garden's middling yield.
func (f *filler) gives(w *way, c *grow.Course, yield float64) given {
	never := given{outlook: outlook{first: math.Inf(1), last: math.Inf(1)}}
	if c.Failed() || f.gap.Until.Known() && c.FirstPick >= f.gap.Until {
		return never
	}
	g := given{outlook: outlook{first: dayNumber(c.FirstPick), last: dayNumber(c.LastPick)}}
	keep, carried := kitchen.Keep(w.Crop.Keeping), 0.0
	eat := func(have float64, day calendar.Date) {
		eaten := math.Min(have, w.want.PortionsPerWeek)
		carried = (have - eaten) * keep
		g.portions += eaten
		g.value += eaten * f.worth(day) * w.want.Liking
	}
	last := f.in.Today
	for _, pick := range c.Pickings {
		if f.gap.Until.Known() && pick.Monday >= f.gap.Until {
			break
		}
		last = pick.Monday
		got := pick.KgPerM2 * w.ScaleM2 * yield
		g.kg += got
		eat(got*w.perKg+carried, pick.Monday)
	}
	// What keeps is eaten on in the weeks after.
	const storeWeeks = 26
	for n := 1; n <= storeWeeks && carried > 0.1; n++ {
		eat(carried, last.Add(7*n))
	}
	if g.kg <= 0 {
		return never
	}
	return g
}

// worth is what a portion counts for in the week of a day.
func (f *filler) worth(day calendar.Date) float64 {
	if f.q.Short == nil {
		return 1
	}
	least := rule("fill.enough_value_share")
	return least + (1-least)*math.Max(0, math.Min(1, f.q.Short(day)))
}
