package season

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/garden"
	"haulm/internal/ground"
	"haulm/internal/grow"
	"haulm/internal/kitchen"
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
	Chance    float64       `json:"chance"` // share of past years in which it makes it in time
	FirstPick Odds          `json:"first_pick"`
	Free      calendar.Date `json:"ground_free"` // in a middling year
	Plants    int           `json:"plants"`
	Kg        float64       `json:"kg"`       // in a middling year
	Portions  float64       `json:"portions"` // of them, that the table would eat
	Value     float64       `json:"value"`    // portions, those of full weeks counted for less
	Needs     []string      `json:"needs"`    // what must be to hand
	Cautions  []string      `json:"cautions,omitempty"`

	Ready  bool   `json:"plants_now"` // plants set out at once, not sown
	Weight string `json:"weight"`     // Kg in words

	planting Planting
	out      calendar.Date // of raised plants, in a middling year
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
		if p.Place.Name == f.place.Name && p.FromCM < f.gap.ToCM && f.gap.FromCM < p.ToCM && all[i].begun.Known() && p.Crop.RotationYears > 0 {
			out[p.Crop.RotationGroup] = true
		}
	}
	return out, nil
}

// offers grows every crop that may be, and keeps the best of each dish.
func (f *filler) offers() []Offer {
	best := map[string]Offer{}
	for _, want := range f.in.Garden.Wants {
		if want.Liking <= 0 || want.PortionsPerWeek <= 0 || f.locked(want.Dish) {
			continue
		}
		for _, cr := range f.in.Catalogue.Crops() {
			if cr.Dish != want.Dish || cr.Perennial || f.banned[cr.RotationGroup] || f.place.SunHours < cr.SunHours {
				continue
			}
			for _, o := range f.ways(cr, want) {
				if old, ok := best[o.CropKey]; !ok || o.Value > old.Value {
					best[o.CropKey] = o
				}
			}
		}
	}
	var out []Offer
	for _, o := range best {
		out = append(out, o)
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

// ways are the offers of one crop by all its routes and kinds: sown now, or
// for raised plants set out now, where somebody has them.
func (f *filler) ways(cr *crop.Crop, want garden.Want) []Offer {
	var out []Offer
	for i := range cr.Routes {
		route := &cr.Routes[i]
		layout := ground.Plants(f.place, ground.SpacingOf(route), float64(f.gap.ToCM-f.gap.FromCM))
		if layout.Plants == 0 || !f.inSeason(route) {
			continue
		}
		for _, class := range cr.Classes {
			if o, ok := f.try(cr, class.Name, route, layout.Plants, want, false); ok {
				out = append(out, o)
			}
			if !route.Raised {
				continue
			}
			if o, ok := f.try(cr, class.Name, route, layout.Plants, want, true); ok {
				out = append(out, o)
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

// try grows one way through every year.
func (f *filler) try(cr *crop.Crop, class string, route *crop.Route, plants int, want garden.Want, ready bool) (Offer, bool) {
	area := ground.StretchM2(f.place, f.gap.FromCM, f.gap.ToCM, plants, route.PlantsPerM2)
	p := Planting{Crop: cr, Class: class, Route: route, Place: f.place, AreaM2: area, Plants: plants, ScaleM2: area * f.hand, Start: f.in.Today, SetOut: calendar.None}
	d := newDeeds()
	d.begun = f.in.Today
	if ready {
		d.out = f.in.Today
	}
	track, err := f.track(&p)
	if err != nil {
		return Offer{}, false
	}
	if ready && track.Pace(f.splice.on(0, f.in.Today.Add(-7)), 7) < 0.2 {
		return Offer{}, false // nothing set out now would move
	}
	return f.judge(&p, f.courses(track, &p, d), want, ready)
}

// judge turns a way's courses into an offer; not where it fails too often.
func (f *filler) judge(p *Planting, courses []scenario, want garden.Want, ready bool) (Offer, bool) {
	perKg, err := kitchen.PortionsPerKg(p.Crop.Portion)
	if err != nil || len(courses) < fewestYears {
		return Offer{}, false
	}
	made := 0
	var firsts, frees, kgs, eaten, values []float64
	for i := range courses {
		c := &courses[i].course
		kg, portions, value := f.weigh(p, c, perKg, want)
		inTime := !c.Failed() && kg > 0 && (!f.gap.Until.Known() || c.FirstPick < f.gap.Until)
		if !inTime {
			firsts, kg, portions, value = append(firsts, math.Inf(1)), 0, 0, 0
		} else {
			made++
			firsts, frees = append(firsts, float64(c.FirstPick)), append(frees, dayNumber(c.Clear))
		}
		kgs, eaten, values = append(kgs, kg), append(eaten, portions), append(values, value)
	}
	chance := float64(made) / float64(len(courses))
	if chance < rule("fill.least_success_share") {
		return Offer{}, false
	}
	o := Offer{
		CropKey: p.Crop.Key, Name: p.name(), RouteKey: p.Route.Key, Class: p.Class, Chance: chance, FirstPick: oddsOf(firsts), Free: oddsOf(frees).P50,
		Plants: p.Plants, Kg: grow.Quantile(kgs, 0.5), Portions: grow.Quantile(eaten, 0.5), Value: mean(values),
	}
	if o.Value < 1 {
		return o, false
	}
	o.planting, o.Ready, o.out = *p, ready, middleDay(courses, func(c *grow.Course) calendar.Date { return c.SetOut })
	for _, c := range p.Crop.Cautions {
		o.Cautions = append(o.Cautions, c.Situation+": "+c.Precaution)
	}
	return o, true
}

// weigh is what a course brings before the ground is wanted again: kg,
// portions that the table would eat, and their value where weeks are short.
func (f *filler) weigh(p *Planting, c *grow.Course, perKg float64, want garden.Want) (kg, portions, value float64) {
	keep, carried := kitchen.Keep(p.Crop.Keeping), 0.0
	for _, pick := range c.Pickings {
		if f.gap.Until.Known() && pick.Monday >= f.gap.Until {
			break
		}
		got := pick.KgPerM2 * p.ScaleM2
		kg += got
		have := got*perKg + carried
		eat := math.Min(have, want.PortionsPerWeek)
		carried = (have - eat) * keep
		portions += eat
		value += eat * f.worth(pick.Monday) * want.Liking
	}
	// What keeps is eaten on in the weeks after.
	last := f.in.Today
	if n := len(c.Pickings); n > 0 {
		last = c.Pickings[n-1].Monday
	}
	const storeWeeks = 26
	for w := 1; w <= storeWeeks && carried > 0.1; w++ {
		eat := math.Min(carried, want.PortionsPerWeek)
		carried = (carried - eat) * keep
		portions += eat
		value += eat * f.worth(last.Add(7*w)) * want.Liking
	}
	return kg, portions, value
}

// worth is what a portion counts for in the week of a day.
func (f *filler) worth(day calendar.Date) float64 {
	if f.q.Short == nil {
		return 1
	}
	least := rule("fill.enough_value_share")
	return least + (1-least)*math.Max(0, math.Min(1, f.q.Short(day)))
}

// tellHow says how it is begun and what must be to hand.
func (f *filler) tellHow(o *Offer) {
	p := &o.planting
	o.Weight = f.say().weight(o.Kg)
	switch {
	case o.Ready:
		o.How = "set out plants now"
		o.Needs = []string{fmt.Sprintf("%d plants, raised or bought, %g to %g weeks old", p.Plants, p.Route.RaiseWeeksMin, p.Route.RaiseWeeksMax)}
	case p.Route.Vegetative:
		o.How = "plant now"
		o.Needs = []string{fmt.Sprintf("%d %s", p.Plants, pieces(p.Route.Key))}
	case p.Route.Raised:
		o.How = fmt.Sprintf("sow %s now, set out about %s", p.Route.Name, o.out.Format("2 January"))
		o.Needs = []string{fmt.Sprintf("seed: %d", f.seeds(p)), fmt.Sprintf("room for %.0f cells indoors", math.Ceil(float64(p.Plants)*p.Route.CellsPerPlant))}
	default:
		o.How = "sow here now"
		o.Needs = []string{fmt.Sprintf("seed: %d", f.seeds(p))}
	}
}

// seeds is how many to sow for the plants wanted.
func (f *filler) seeds(p *Planting) int {
	return ground.Seeds(p.Crop, p.Route, p.Plants, f.in.Catalogue.Constants.FieldFactor)
}
