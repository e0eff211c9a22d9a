package cropping

import (
	"cmp"
	"slices"

	"haulm/internal/calendar"
	"haulm/internal/garden"
	"haulm/internal/plan"
)

// layKeeps fixes the plantings that the gardener keeps. What cannot be is
// refused with the reason, and the plan is made without it.
func (l *Lay) layKeeps() {
	if l.question.Only {
		return
	}
	for _, k := range l.question.Garden.Keeps {
		if k.Always() && l.standsAlready(k) || !k.Always() && !l.ahead(k.Start) {
			continue
		}
		s := Saved{Crop: k.Crop, Class: cmp.Or(k.Class, "mid"), Route: k.Route, Place: k.Place, FromCM: k.FromCM, ToCM: k.ToCM, Start: k.Start}
		p, why := l.keptPlanting(k, s)
		var fixed []plan.Planting
		if why == "" {
			fixed, why = l.besideFixed(p)
		}
		if why != "" {
			l.refused = append(l.refused, Unfit{s, l.nameOf(k.Crop), why})
			continue
		}
		l.Problem.Fixed = fixed
	}
}

// besideFixed are the fixed plantings with one more, or why it cannot be.
func (l *Lay) besideFixed(p plan.Planting) (fixed []plan.Planting, why string) {
	fixed = append(slices.Clone(l.Problem.Fixed), p)
	if broken := plan.Validate(l.Problem, fixed); len(broken) > 0 {
		return nil, l.whyNot(broken[0], p)
	}
	return fixed, ""
}

// ahead says whether a day can still be planned for.
func (l *Lay) ahead(day calendar.Date) bool {
	return day >= l.Monday(l.now) && day < l.Monday(l.rules.sowingWeeks())
}

// standsAlready says whether a crop kept every year is in its place as it is.
func (l *Lay) standsAlready(k garden.Keep) bool {
	return slices.ContainsFunc(l.given, func(g given) bool { return lies(k, g.Crop.Key, g.Place, g.FromCM, g.ToCM) })
}

// lies says whether a stretch of a crop is on the ground that the gardener keeps for it.
func lies(k garden.Keep, cropKey, place string, fromCM, toCM int) bool {
	return k.Crop == cropKey && k.Place == place && fromCM < k.ToCM && k.FromCM < toCM
}

// keptPlanting is a kept planting in the layout's numbers; for one of every
// year, begun in the week from which it feeds the table best by itself.
func (l *Lay) keptPlanting(k garden.Keep, s Saved) (plan.Planting, string) {
	if !k.Always() {
		if s.Route == "" {
			if cr := l.question.Catalogue.Crop(k.Crop); cr != nil {
				s.Route = cr.UsualRoute().Key
			}
		}
		return l.find(s)
	}
	bedNo := l.bedNamed(k.Place)
	if bedNo < 0 {
		return plan.Planting{}, "no place is called " + k.Place
	}
	if cr := l.question.Catalogue.Crop(k.Crop); cr != nil {
		if why := l.unwanted(cr, l.beds[bedNo].numbers.Kind); why != "" {
			return plan.Planting{}, why
		}
	}
	best, most, why := plan.Planting{}, 0.0, "in this weather it would not make it there often enough"
	strip, strips := l.beds[bedNo].strips(k.FromCM, k.ToCM)
	for i := range l.choices {
		c := &l.choices[i]
		if c.crop.Key != k.Crop || c.kind != l.beds[bedNo].numbers.Kind || k.Route != "" && c.route.Key != k.Route || k.Class != "" && c.class != k.Class {
			continue
		}
		p := plan.Planting{Cand: i, Bed: bedNo, Strip: strip, Strips: strips}
		alone, barred := l.besideFixed(p)
		if barred != "" {
			why = barred
			continue
		}
		if v, err := plan.Evaluate(l.Problem, alone); err == nil && (most == 0 || v.Total > most) {
			best, most = p, v.Total
		}
	}
	if most == 0 {
		return best, why
	}
	return best, ""
}

// KeptAmong are those of some plantings that the gardener keeps.
func (l *Lay) KeptAmong(plantings []plan.Planting) []plan.Planting {
	var out []plan.Planting
	for i, s := range l.Save(plantings) {
		if slices.ContainsFunc(l.question.Garden.Keeps, func(k garden.Keep) bool {
			return lies(k, s.Crop, s.Place, s.FromCM, s.ToCM) && (k.Always() || k.Start == s.Start)
		}) {
			out = append(out, plantings[i])
		}
	}
	return out
}
