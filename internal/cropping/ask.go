package cropping

import (
	"slices"

	"haulm/internal/crop"
	"haulm/internal/garden"
	"haulm/internal/ground"
	"haulm/internal/plan"
)

// Dish is one dish of the table as a question about the plan sees it; its index is
// that of plan.Problem's crops.
type Dish struct {
	Name  string
	Crops []*crop.Crop // that make it
}

// Dishes are the dishes that the table wants.
func (l *Lay) Dishes() []Dish {
	var out []Dish
	for _, d := range l.dishes {
		out = append(out, Dish{d.Name, d.Crops})
	}
	return out
}

// CropOf is the crop of one of the problem's candidates.
func (l *Lay) CropOf(cand int) *crop.Crop { return l.choices[cand].crop }

// PlaceOf is the place of one of the problem's beds, and how much ground one of its
// strips is: m², or the number of pots. It is false for the bed that stands for
// what lies in store.
func (l *Lay) PlaceOf(bed int) (place garden.Place, strip float64, ok bool) {
	if bed >= len(l.beds) {
		return garden.Place{}, 0, false
	}
	place = l.beds[bed].place
	if place.Kind == garden.Pots {
		return place, 1, true
	}
	return place, ground.StripM2, true
}

// ForAsking is a layout over which questions about a plan can be searched: every
// choice is grown, and the table also takes more. The plan is found again in it, as
// far as it fits.
func (l *Lay) ForAsking(plantings []plan.Planting, more ...garden.Want) (*Lay, []plan.Planting, error) {
	if !l.question.Only && len(more) == 0 {
		return l, plantings, nil
	}
	q := l.question
	q.Only = false
	g := *q.Garden
	g.Wants = slices.Concat(g.Wants, more)
	q.Garden = &g
	own, err := NewLay(q)
	if err != nil {
		return nil, nil, err
	}
	fit, _ := own.Match(l.Save(plantings))
	return own, fit, nil
}
