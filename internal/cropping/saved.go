package cropping

import (
	"fmt"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/ground"
	"haulm/internal/plan"
)

// Saved is one planting in words that outlast a layout.
type Saved struct {
	Crop   string        `json:"crop"`
	Class  string        `json:"class"`
	Route  string        `json:"route"`
	Place  string        `json:"place"`
	FromCM int           `json:"from_cm"`
	ToCM   int           `json:"to_cm"`
	Start  calendar.Date `json:"start"`

	// Where the season has overtaken the plan; 0 = as the plan had it.
	SetOut calendar.Date `json:"set_out,omitzero"` // it goes out in that week
	Until  calendar.Date `json:"until,omitzero"`   // its ground came free then, and no more is picked
}

// Unfit is a planting of a saved plan that can no longer stand, and why.
type Unfit struct {
	Saved
	Name string // of the crop
	Why  string // in words that follow "it does not fit:"
}

// Save puts plantings of the layout's problem into words.
func (l *Lay) Save(plantings []plan.Planting) []Saved {
	out := make([]Saved, 0, len(plantings))
	for _, p := range plantings {
		s, b := l.saved(&l.choices[p.Cand]), l.beds[p.Bed]
		s.Place, s.FromCM, s.ToCM = b.place.Name, b.fromCM(p.Strip), b.fromCM(p.Strip+p.Strips)
		out = append(out, s)
	}
	return out
}

// saved puts a choice into words, without a place.
func (l *Lay) saved(c *choice) Saved {
	s := Saved{Crop: c.crop.Key, Class: c.class, Route: c.route.Key, Start: l.Monday(c.sowWeek)}
	if c.moved {
		s.SetOut = l.Monday(c.outWeek)
	}
	if c.cut {
		s.Until = l.Monday(c.numbers.End)
	}
	return s
}

// Match finds saved plantings again in the layout, as many as still fit, each
// in its turn; the rest it tells with the reason. What the layout would not
// offer itself is added to its problem, so match before searching.
func (l *Lay) Match(saved []Saved) ([]plan.Planting, []Unfit) {
	var fit []plan.Planting
	var of []Saved
	var unfit []Unfit
	for _, s := range saved {
		p, why := l.find(s)
		if why != "" {
			unfit = append(unfit, Unfit{s, l.nameOf(s.Crop), why})
			continue
		}
		fit, of = append(fit, p), append(of, s)
	}
	loose := *l.Problem
	loose.Fixed = nil // what the gardener keeps is for the next plan
	if len(plan.Validate(&loose, fit)) == 0 {
		return fit, unfit
	}
	var kept []plan.Planting
	for i, p := range fit {
		broken := plan.Validate(&loose, append(kept, p))
		if len(broken) == 0 {
			kept = append(kept, p)
			continue
		}
		unfit = append(unfit, Unfit{of[i], l.nameOf(of[i].Crop), l.whyNot(broken[0], p)})
	}
	return kept, unfit
}

func (l *Lay) nameOf(key string) string {
	if cr := l.question.Catalogue.Crop(key); cr != nil {
		return cr.Name
	}
	return key
}

// find is a saved planting in the layout's numbers, or why it cannot be.
func (l *Lay) find(s Saved) (plan.Planting, string) {
	p, why := l.groundOf(s)
	if why != "" {
		return p, why
	}
	p.Cand, why = l.choiceFor(s, p.Bed)
	return p, why
}

// groundOf is a planting on the ground of a saved one, or why it cannot be: the
// one place that says which strips a planting of a plan holds. They may be more
// than its rows take.
func (l *Lay) groundOf(s Saved) (plan.Planting, string) {
	bedNo := l.bedNamed(s.Place)
	if bedNo < 0 {
		return plan.Planting{}, fmt.Sprintf("no place is called %q any more", s.Place)
	}
	b := l.beds[bedNo]
	if most := b.place.LengthCM(); s.ToCM > most+1 {
		return plan.Planting{}, fmt.Sprintf("it needs %.1f to %.1f m of a place that is %.1f m long", float64(s.FromCM)/100, float64(s.ToCM)/100, float64(most)/100)
	}
	strip, strips := b.strips(s.FromCM, s.ToCM)
	return plan.Planting{Bed: bedNo, Strip: strip, Strips: strips}, ""
}

// cropOf is the crop of a saved planting, or why it may not be in its bed at all.
func (l *Lay) cropOf(s Saved, bed int) (*crop.Crop, string) {
	cr := l.question.Catalogue.Crop(s.Crop)
	if cr == nil {
		return nil, "the catalogue has no such crop"
	}
	return cr, l.unwanted(cr, l.beds[bed].numbers.Kind)
}

// choiceFor is the choice of a saved planting, grown for it where the layout
// would not offer it.
func (l *Lay) choiceFor(s Saved, bed int) (int, string) {
	cr, why := l.cropOf(s, bed)
	if why != "" {
		return 0, why
	}
	kindIndex := l.beds[bed].numbers.Kind
	anywhere := s
	anywhere.Place, anywhere.FromCM, anywhere.ToCM = "", 0, 0
	for i := range l.choices {
		if c := &l.choices[i]; c.crop == cr && c.kind == kindIndex && l.saved(c) == anywhere {
			return i, ""
		}
	}
	c, why := l.growSaved(s, cr, kindIndex)
	if why != "" {
		return 0, why
	}
	l.choices = append(l.choices, c)
	if l.Problem != nil {
		l.Problem.Cands = append(l.Problem.Cands, c.numbers)
	}
	return len(l.choices) - 1, ""
}

// unwanted says why a crop may not be planned in a kind of place at all.
func (l *Lay) unwanted(cr *crop.Crop, kindIndex int) string {
	if _, ok := l.dishIndex[cr.Dish]; !ok {
		return "the table no longer takes " + cr.Dish
	}
	if !l.wanted(cr) {
		return cr.Dish + " are not to be planned anywhere"
	}
	if l.kinds[kindIndex].locks(cr.Dish) {
		return cr.Dish + " are kept out of that place"
	}
	return ""
}

// growSaved grows a saved planting from its own day.
func (l *Lay) growSaved(s Saved, cr *crop.Crop, kindIndex int) (choice, string) {
	route, err := cr.Route(s.Route)
	if err != nil {
		return choice{}, "the catalogue has no such way of raising it"
	}
	c := choice{crop: cr, class: s.Class, route: route, kind: kindIndex, sowWeek: l.weekOf(s.Start)}
	c.plantsPerStrip = l.plantsPerStrip(route, l.kinds[kindIndex])
	if c.sowWeek < 0 || c.sowWeek >= l.rules.weeks()-1 {
		return c, "its day lies outside the plan"
	}
	if c.plantsPerStrip <= 0 {
		return c, "it is not a crop for pots of that size"
	}
	track, err := l.track(cr, s.Class, route, kindIndex)
	if err != nil {
		return c, err.Error()
	}
	if s.SetOut != 0 && route.Raised {
		c.outWeek, c.moved = max(c.sowWeek+1, l.weekOf(s.SetOut)), true
	}
	if s.Until != 0 {
		c.until, c.cut = max(c.sowWeek+1, l.weekOf(s.Until)), true
	}
	l.growChoice(&c, track)
	if c.outWeek >= l.rules.weeks()-1 || !l.number(&c) && !c.cut {
		return c, "in this weather it would give nothing within the plan"
	}
	return c, ""
}

// whyNot puts the rule that a planting breaks into words.
func (l *Lay) whyNot(v plan.Violation, p plan.Planting) string {
	c, b := &l.choices[p.Cand], l.beds[p.Bed]
	switch v.Rule {
	case "sun":
		return fmt.Sprintf("the place has %.0f hours of sun, it needs %.0f", b.place.SunHours, l.Problem.Crops[c.numbers.Crop].SunHours)
	case "overlap":
		return "its ground is taken by something else then"
	case "closed":
		return "its ground is not free then"
	case "ban", "family":
		return "its family stood there too lately"
	case "length":
		return fmt.Sprintf("the stretch is shorter than one row of it, %.0f cm", ground.SpacingOf(c.route).BetweenRowCM)
	case "bed":
		return "the place is too short for it"
	case "tray":
		return "there is no room left indoors to raise it"
	}
	return v.Detail
}
