package grow

import "math"

// Pace is how a garden's plants keep time against the book: factors on thermal
// time, 1 as the book says, 1.08 eight per cent slower.
type Pace struct {
	Emergence float64 // sowing to emergence
	Growth    float64 // from there to the first picking
}

// ByTheBook is the pace of the catalogue.
var ByTheBook = Pace{1, 1}

// Paced is the track at another pace. It shares the tables, so that it costs
// nothing to make.
func (t *Track) Paced(p Pace) *Track {
	paced := *t
	r := &paced.recipe
	r.emergeCDay *= p.Emergence
	r.targetCDay *= p.Growth
	r.standing.cDay *= p.Growth
	r.creditCDay *= p.Growth
	r.gate.afterCDay *= p.Growth
	if !r.raised {
		r.seedlingCDay *= p.Growth
	}
	return &paced
}

// PickedEvery is the track of a crop that is picked over every so many days.
// Courses are kept up unless this says otherwise; what is left to swell keeps
// the plant from bearing more. It shares the tables, as Paced does.
func (t *Track) PickedEvery(days float64) *Track {
	picked := *t
	r := &picked.recipe
	r.kept = 1
	if r.every > 0 && days > r.every {
		late := min(1, (days-r.every)/r.every) // 1 from half as often on
		r.kept = 1 - late*(1-r.neglect)
	}
	return &picked
}

// Doubt is the spread of thermal time between cultivars of one kind and
// between sites: standard deviations of its natural logarithm.
type Doubt struct{ EmergenceLog, GrowthLog float64 }

// Doubt is the track's doubt.
func (t *Track) Doubt() Doubt { return t.recipe.doubt }

// At is the pace at z standard deviations from the book: at
// -crop.ZTenth it is the pace that one planting in ten is quicker than.
func (d Doubt) At(z float64) Pace {
	return Pace{math.Exp(z * d.EmergenceLog), math.Exp(z * d.GrowthLog)}
}
