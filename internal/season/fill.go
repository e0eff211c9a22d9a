package season

import (
	"cmp"
	"fmt"
	"slices"

	"haulm/internal/calendar"
	"haulm/internal/garden"
	"haulm/internal/ground"
)

// Gap is a stretch of a place and how long it is free.
type Gap struct {
	Place  string        `json:"place"`
	FromCM int           `json:"from_cm"`
	ToCM   int           `json:"to_cm"`
	Until  calendar.Date `json:"until"` // a planned planting takes it then; None where none does
	Next   string        `json:"next,omitempty"`
}

// Offer is one crop that can still go in.
type Offer struct {
	CropKey   string        `json:"crop"`
	Name      string        `json:"name"`
	RouteKey  string        `json:"route"`
	Class     string        `json:"class"`
	How       string        `json:"how"`
	Chance    float64       `json:"chance"` // that it makes it in time, over weather years and kinds
	FirstPick Odds          `json:"first_pick"`
	Free      calendar.Date `json:"ground_free"` // in a middling year
	Plants    int           `json:"plants"`
	Clumps    int           `json:"clumps,omitempty"` // in which they stand, out of multi-sown modules
	Kg        float64       `json:"kg"`               // in a middling year, at a middling pace and yield
	Portions  float64       `json:"portions"`         // of them, that the table would eat
	Value     float64       `json:"value"`            // portions, those of full weeks counted for less
	Needs     []string      `json:"needs"`            // what must be to hand
	Cautions  []string      `json:"cautions,omitempty"`

	LowKg        float64 `json:"low_kg"` // it lies within these 8 times in 10
	HighKg       float64 `json:"high_kg"`
	LowPortions  float64 `json:"low_portions"`
	HighPortions float64 `json:"high_portions"`

	Ready  bool   `json:"plants_now"` // plants set out at once, not sown
	Weight string `json:"weight"`     // between LowKg and HighKg, in words

	way *way
}

// FillQuestion asks what can still go into a stretch. FromCM and ToCM both 0
// ask for the longest stretch that is free today.
type FillQuestion struct {
	Place        string
	FromCM, ToCM int
	Short        func(calendar.Date) float64 // share of the table's need unmet in the week of a day, 0 to 1; nil = 1 always
	Hand         float64                     // share of the typical yield counted on; 0 = as for unplanned sowings
}

// Fill tells which crops can still go into a free stretch today, the best
// first: those of the dishes the garden wants, that rotation and locks allow,
// and that make it often enough before the ground is wanted again.
func Fill(in Input, q FillQuestion) (Gap, []Offer, error) {
	place, ok := in.Garden.Place(q.Place)
	if !ok {
		return Gap{}, nil, fmt.Errorf("no place is called %q", q.Place)
	}
	if q.FromCM < 0 || q.ToCM < q.FromCM || q.ToCM > place.LengthCM() {
		return Gap{}, nil, fmt.Errorf("%s: the stretch from %d to %d cm does not lie within its %d cm", q.Place, q.FromCM, q.ToCM, place.LengthCM())
	}
	gap, err := findGap(&in, place, q)
	if err != nil {
		return gap, nil, err
	}
	f, err := newFiller(&in, place, gap, q)
	if err != nil {
		return gap, nil, err
	}
	return gap, f.offers(), nil
}

// filler tries crops on a gap.
type filler struct {
	*grower
	place  garden.Place
	gap    Gap
	q      FillQuestion
	banned map[string]bool
	hand   float64
}

func newFiller(in *Input, place garden.Place, gap Gap, q FillQuestion) (*filler, error) {
	s, err := newSplice(in, in.Today)
	if err != nil {
		return nil, err
	}
	f := &filler{grower: newGrower(in, s), place: place, gap: gap, q: q, hand: q.Hand}
	if f.hand <= 0 {
		f.hand = rule("job.unplanned_share")
	}
	f.banned, err = f.bans()
	return f, err
}

// bans are the rotation groups that may not stand on the gap: by the years
// before, and what stood there this year.
func (f *filler) bans() (map[string]bool, error) {
	out := map[string]bool{}
	if f.place.Kind == garden.Pots {
		return out, nil
	}
	season := calendar.SeasonYear(f.in.Today, f.in.Garden.Site.South())
	past, err := ground.Bans(f.in.Garden, f.place.Name, f.in.Catalogue.Crop, season)
	if err != nil {
		return nil, err
	}
	first, end := ground.StripsOver(f.place, f.gap.FromCM, f.gap.ToCM)
	for _, strip := range past[first:end] {
		for _, ban := range strip {
			out[ban.Group] = true
		}
	}
	all := readDeeds(f.in, f.in.Plantings)
	for i := range f.in.Plantings {
		p := &f.in.Plantings[i]
		if p.Place.Name == f.place.Name && p.FromCM < f.gap.ToCM && f.gap.FromCM < max(p.ToCM, p.EndCM) && all[i].begun.Known() && p.Crop.RotationYears > 0 {
			out[p.Crop.RotationGroup] = true
		}
	}
	return out, nil
}

// offers grows every crop that may be, and keeps the best way of each.
func (f *filler) offers() []Offer {
	var out []Offer
	for _, want := range f.in.Garden.Wants {
		if want.Liking <= 0 || want.PortionsPerWeek <= 0 || f.locked(want.Dish) {
			continue
		}
		for _, cr := range f.in.Catalogue.Crops() {
			if cr.Dish != want.Dish || cr.Perennial || f.banned[cr.RotationGroup] || f.place.SunHours < cr.SunHours {
				continue
			}
			if o, ok := f.best(cr, want); ok {
				out = append(out, o)
			}
		}
	}
	slices.SortFunc(out, func(a, b Offer) int { return cmp.Or(cmp.Compare(b.Value, a.Value), cmp.Compare(a.CropKey, b.CropKey)) })
	out = withSown(out, int(rule("fill.most_offered")), int(rule("fill.least_sown")))
	for i := range out {
		f.tellHow(&out[i]) // counts seeds, which takes its time: only for what is offered
	}
	return out
}

// withSown cuts offers, the best first, down to most; of what can be sown, for
// which nobody needs plants, there are at least so many as long as there are
// any.
func withSown(offers []Offer, most, leastSown int) []Offer {
	if len(offers) <= most {
		return offers
	}
	sown := 0
	for i := range offers[:most] {
		if !offers[i].Ready {
			sown++
		}
	}
	out := slices.Clone(offers[:most])
	for i := most; i < len(offers) && sown < leastSown; i++ {
		if offers[i].Ready {
			continue
		}
		for k := most - 1; k >= 0; k-- {
			if out[k].Ready {
				out = append(slices.Delete(out, k, k+1), offers[i])
				sown++
				break
			}
		}
	}
	return out
}

func (f *filler) locked(dish string) bool {
	return slices.ContainsFunc(f.in.Garden.Locks, func(l garden.Lock) bool { return l.Dish == dish && (l.Place == "" || l.Place == f.place.Name) })
}

// tellHow says how it is begun and what must be to hand.
func (f *filler) tellHow(o *Offer) {
	p := &o.way.Planting
	o.Weight = f.say().weightSpan(o.LowKg, o.HighKg)
	switch {
	case o.Ready:
		o.How = "set out plants now"
		o.Needs = []string{fmt.Sprintf("%s, raised or bought, %g to %g weeks old", p.count(), p.Route.RaiseWeeksMin, p.Route.RaiseWeeksMax)}
	case p.Route.Vegetative:
		o.How = "plant now"
		o.Needs = []string{fmt.Sprintf("%d %s", p.Plants, pieces(p.Route.Key))}
	case p.Route.Raised:
		o.How = fmt.Sprintf("sow %s now, set out about %s", p.Route.Name, o.way.out().Format("2 January"))
		o.Needs = []string{p.seedToHand(f.seeds(p)), p.roomToHand()}
	default:
		o.How = "sow here now"
		o.Needs = []string{p.seedToHand(f.seeds(p))}
	}
}

// seeds is how many to sow for the plants wanted.
func (f *filler) seeds(p *Planting) int {
	return ground.Seeds(p.Crop, p.Route, p.Plants, f.in.Catalogue.Constants.FieldFactor)
}
