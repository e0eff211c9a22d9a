package app

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/grow"
)

// GrowQuestion asks how one crop would have done from one day of every year.
type GrowQuestion struct {
	Crop     string
	Route    string // "" = the usual one
	Class    string // "" = mid
	Cover    string // "" = open
	Start    calendar.MonthDay
	SetOut   *calendar.MonthDay // nil = when fit and mild
	From, To int                // years of the start; 0 = all on record

	RainFed   bool    // nobody waters it
	Soil      string  // texture of rain-fed ground, "" = loam
	PotLitres float64 // in a pot of this size; 0 = in the ground
	PickEvery float64 // days between pickings; 0 = as often as keeps it bearing
	Standing  bool    // perennials: an old plant in each season on record, whatever the Start
}

// GrowAnswer is the crop's spread over the years.
type GrowAnswer struct {
	Crop      string       `json:"crop"`
	Name      string       `json:"name"`
	Route     string       `json:"route"`
	Class     string       `json:"class"`
	Cover     string       `json:"cover,omitempty"`
	Ground    string       `json:"ground,omitempty"` // what it stands in, in words, where it is not watered ground
	Years     []GrowYear   `json:"years"`
	FirstPick MonthDayOdds `json:"first_pick"`
	Made      int          `json:"years_picked"`
	Lost      int          `json:"years_lost"`
	LeftOut   int          `json:"years_left_out"` // the record has gaps in them
	Estimated bool         `json:"estimated"`

	Spread grow.Spread `json:"-"`
	Entry  *crop.Crop  `json:"-"`
}

// GrowYear is one year's course. Stages that were not reached are null.
type GrowYear struct {
	Year       int           `json:"year"`
	Start      calendar.Date `json:"start"`
	Emergence  calendar.Date `json:"emergence"`
	Transplant calendar.Date `json:"transplant"`
	FirstPick  calendar.Date `json:"first_pick"`
	LastPick   calendar.Date `json:"last_pick"`
	KgPerPlant float64       `json:"kg_per_plant"`
	KgPerM2    float64       `json:"kg_per_m2"`
	Mishap     string        `json:"mishap"`
	MishapDay  calendar.Date `json:"mishap_day"`
	CutShort   bool          `json:"record_ended"` // the record ended before the crop did
}

// Grow runs a crop through every year of the weather. Odds count a lost year
// as later than any day.
func (w *Weather) Grow(q GrowQuestion, catalogue *crop.Catalogue) (*GrowAnswer, error) {
	cr, route, cover, err := w.choose(q, catalogue)
	if err != nil {
		return nil, err
	}
	class := cmp.Or(q.Class, "mid")
	ground, err := q.ground(cr, route, cover)
	if err != nil {
		return nil, err
	}
	track, err := w.Climate.TrackIn(cr, class, route, ground)
	if err != nil {
		return nil, err
	}
	if q.PickEvery > 0 {
		track = track.PickedEvery(q.PickEvery)
	}
	from, to := cmp.Or(q.From, w.Climate.Start().Year()), cmp.Or(q.To, w.Climate.End().Year())
	if from > to {
		return nil, fmt.Errorf("--from %d lies after --to %d", from, to)
	}
	spread := grow.Spread{}
	if q.Standing {
		if !cr.Perennial {
			return nil, fmt.Errorf("%s does not stand for years: ask for a day of sowing or planting", cr.Name)
		}
		q.Start, spread = calendar.MonthDayOf(w.Climate.NewYear(from)), track.GrowEstablished(from, to)
	} else {
		spread = track.Grow(from, to, q.Start, q.SetOut)
	}
	answer := &GrowAnswer{
		Crop: cr.Key, Name: cr.Name, Route: route.Key, Class: class, Cover: cover.Key,
		Ground: q.groundWords(), LeftOut: spread.Gaps, Estimated: w.Measured.Estimated, Spread: spread, Entry: cr,
	}
	answer.Lost, _ = spread.Lost()
	answer.Made = len(spread.Courses) - answer.Lost
	answer.FirstPick = pickDays(spread.FirstPick(), q.Start)
	for _, c := range append(slices.Clone(spread.Courses), spread.Short...) {
		answer.Years = append(answer.Years, growYear(c, route))
	}
	slices.SortFunc(answer.Years, func(a, b GrowYear) int { return cmp.Compare(a.Start, b.Start) })
	if len(answer.Years) == 0 {
		return nil, fmt.Errorf("no year from %d to %d has weather on record from %s on: the record runs from %s to %s",
			from, to, q.Start, w.Climate.Start(), w.Climate.End().Add(-1))
	}
	return answer, nil
}

// choose finds the crop, route and cover asked for.
func (w *Weather) choose(q GrowQuestion, catalogue *crop.Catalogue) (*crop.Crop, *crop.Route, crop.Cover, error) {
	cr, err := catalogue.Find(q.Crop)
	if err != nil {
		return nil, nil, crop.Cover{}, err
	}
	route, err := cr.Route(q.Route)
	if err != nil {
		return nil, nil, crop.Cover{}, err
	}
	if q.Route == "" && q.SetOut == nil && route.Raised {
		route = w.inPlaceIfWarm(cr, route, q.Start)
	}
	if q.Route == "" && q.SetOut != nil && !route.Raised {
		if route = cr.RaisedRoute(); route == nil {
			return nil, nil, crop.Cover{}, fmt.Errorf("%s is not raised to be set out: leave --set-out away", cr.Name)
		}
	}
	if q.SetOut != nil && !route.Raised {
		return nil, nil, crop.Cover{}, fmt.Errorf("%s is %s, not set out: leave --set-out away or name a raised route (%s)", cr.Name, route.Name, routeKeys(cr))
	}
	cover, err := catalogue.Cover(q.Cover)
	if err != nil {
		return nil, nil, crop.Cover{}, err
	}
	return cr, route, cover, nil
}

// inPlaceIfWarm is how a crop of warm soil is usually begun on a day: raised
// while the bed is colder than its seed needs, sown where it stands once it is
// not. Crops that come up in any spring soil keep their usual way.
func (w *Weather) inPlaceIfWarm(cr *crop.Crop, usual *crop.Route, start calendar.MonthDay) *crop.Route {
	if cr.Germination.MinSoilC < warmSoilC || w.Climate.SeedbedC(start) < cr.Germination.MinSoilC {
		return usual
	}
	if sown := cr.FirstRoute(func(r *crop.Route) bool { return !r.Raised && !r.Vegetative }); sown != nil {
		return sown
	}
	return usual
}

// warmSoilC parts the seed that waits for warm soil from the rest (common
// practice: the beans, the cucurbits, sweetcorn).
const warmSoilC = 10

// routeKeys lists a crop's routes for a message.
func routeKeys(cr *crop.Crop) string {
	keys := make([]string, len(cr.Routes))
	for i := range cr.Routes {
		keys[i] = cr.Routes[i].Key
	}
	return strings.Join(keys, ", ")
}

func growYear(c grow.Course, route *crop.Route) GrowYear {
	y := GrowYear{
		Year: c.Start.Year(), Start: c.Start, Emergence: c.Emergence, Transplant: c.SetOut,
		FirstPick: c.FirstPick, LastPick: c.LastPick, KgPerM2: c.KgPerM2,
		Mishap: string(c.Mishap.Kind), MishapDay: c.Mishap.Day, CutShort: c.RanOut,
	}
	if route.PlantsPerM2 > 0 {
		y.KgPerPlant = c.KgPerM2 / route.PlantsPerM2
	}
	return y
}

// pickDays lays odds in days after the start on a year without a leap day.
func pickDays(odds grow.Odds, start calendar.MonthDay) MonthDayOdds {
	day := func(after int) *calendar.MonthDay {
		if after == grow.Never {
			return nil
		}
		md := calendar.MonthDayOf(start.In(2001).Add(after))
		return &md
	}
	return MonthDayOdds{day(odds.P10), day(odds.P50), day(odds.P90)}
}
