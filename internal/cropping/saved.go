package cropping

import (
	"haulm/internal/calendar"
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
}

// Save puts plantings of the layout's problem into words.
func (l *Lay) Save(plantings []plan.Planting) []Saved {
	out := make([]Saved, 0, len(plantings))
	for _, p := range plantings {
		c, b := &l.choices[p.Cand], l.beds[p.Bed]
		out = append(out, Saved{
			Crop: c.crop.Key, Class: c.class, Route: c.route.Key, Place: b.place.Name,
			FromCM: b.fromCM(p.Strip), ToCM: b.fromCM(p.Strip + p.Strips), Start: l.Monday(c.sowWeek),
		})
	}
	return out
}

// Match finds saved plantings again among the layout's choices. It reports
// false when one no longer fits: the garden or its weather has changed.
func (l *Lay) Match(saved []Saved) ([]plan.Planting, bool) {
	out := make([]plan.Planting, 0, len(saved))
	for _, s := range saved {
		bedNo := l.bedNamed(s.Place)
		if bedNo < 0 {
			return nil, false
		}
		cand := l.choiceOf(s, l.beds[bedNo].numbers.Kind)
		if cand < 0 {
			return nil, false
		}
		strip, strips := l.beds[bedNo].strips(s.FromCM, s.ToCM)
		out = append(out, plan.Planting{Cand: cand, Bed: bedNo, Strip: strip, Strips: strips})
	}
	return out, len(plan.Validate(l.Problem, out)) == 0
}

func (l *Lay) choiceOf(s Saved, kindIndex int) int {
	for i := range l.choices {
		c := &l.choices[i]
		if c.crop.Key == s.Crop && c.class == s.Class && c.route.Key == s.Route && c.kind == kindIndex && l.Monday(c.sowWeek) == s.Start {
			return i
		}
	}
	return -1
}
