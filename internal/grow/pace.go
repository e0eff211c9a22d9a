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
	r.creditCDay *= p.Growth
	r.bulbs.BulbsAfterCDay *= p.Growth
	if !r.raised {
		r.seedlingCDay *= p.Growth
	}
	return &paced
}

// Doubt is the spread of thermal time between cultivars of one kind and
// between sites: standard deviations of its natural logarithm.
type Doubt struct{ EmergenceLog, GrowthLog float64 }

// Doubt is the track's doubt.
func (t *Track) Doubt() Doubt { return t.recipe.doubt }

// At is the pace at z standard deviations from the book: -1.2816 is the pace
// that one planting in ten is quicker than.
func (d Doubt) At(z float64) Pace {
	return Pace{math.Exp(z * d.EmergenceLog), math.Exp(z * d.GrowthLog)}
}
