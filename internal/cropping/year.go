package cropping

import (
	"cmp"
	"math"
	"slices"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/garden"
	"haulm/internal/ground"
	"haulm/internal/grow"
	"haulm/internal/plan"
)

// Year is a plan told in the gardener's terms.
type Year struct {
	Garden       string
	From         calendar.Date // first Monday
	Weeks        int
	WeatherYears int
	Value        float64 // the planner's, in portions' worth
	Plantings    []Planting
	Now          int // first week that is not past; 0 where all lies ahead
	Table        []Week
	FirstYear    []Week      // the first 52 of them, or all
	Eaten        [][]float64 // portions by weather year and week, fresh and from store
	Totals       Totals
	IdleShare    float64 // of the ground and the first 52 weeks
}

// Planting is one planting of a plan, or one that already stands.
type Planting struct {
	Crop    *crop.Crop
	Class   string
	Route   *crop.Route
	Place   string
	PlaceNo int
	FromCM  int // along the place; a pot counts for garden.PotPitchCM
	ToCM    int // where its last row ends
	EndCM   int // where its ground ends: the planner's strips may go on beyond the last row
	Pots    bool
	Stands  bool // stood before the plan began

	Start     calendar.Date // sowing, or planting of sets, tubers and cloves
	SetOut    calendar.Date // None where it is sown in place
	OnGround  calendar.Date // when it takes its ground
	FirstPick DateOdds
	Clear     calendar.Date // when its ground is counted free
	Beyond    bool          // it stands longer than the plan reaches
	Layout    ground.Layout
	RowCM     float64 // from row to row: the book's, a little wider or closer for whole rows; 0 where it stands already
	Seeds     int     // to sow for the plants wanted, nine times in ten enough; 0 for sets, tubers and cloves
	Kg        Odds
	Portions  Odds
	Courses   []grow.Course // one a weather year
	Lost      int           // of them, that gave nothing
	Reasons   []string
}

// Odds are values in 1, 5 and 9 years of 10, smallest first.
type Odds struct {
	P10 float64 `json:"p10"`
	P50 float64 `json:"p50"`
	P90 float64 `json:"p90"`
}

// DateOdds are days by which something has come in 1, 5 and 9 years of 10;
// None where it does not come in that many.
type DateOdds struct {
	P10 calendar.Date `json:"p10"`
	P50 calendar.Date `json:"p50"`
	P90 calendar.Date `json:"p90"`
}

func oddsOf(values []float64) Odds {
	return Odds{grow.Quantile(values, 0.1), grow.Quantile(values, 0.5), grow.Quantile(values, 0.9)}
}

// Tell reads a plan of the layout's problem back into plantings, the table's
// year and its totals.
func (l *Lay) Tell(plantings []plan.Planting, value float64) (*Year, error) {
	y := &Year{
		Garden: l.question.Garden.Name, From: l.from, Weeks: l.rules.weeks(),
		WeatherYears: len(l.years), Value: value,
	}
	for i := range l.standing {
		y.Plantings = append(y.Plantings, l.tellStanding(&l.standing[i]))
	}
	for i := range l.given {
		y.Plantings = append(y.Plantings, l.tellGiven(&l.given[i]))
	}
	for _, p := range plantings {
		y.Plantings = append(y.Plantings, l.tellPlanting(p))
	}
	slices.SortFunc(y.Plantings, func(a, b Planting) int {
		return cmp.Or(cmp.Compare(a.PlaceNo, b.PlaceNo), cmp.Compare(a.FromCM, b.FromCM), cmp.Compare(a.OnGround, b.OnGround))
	})
	served, err := l.serve(plantings)
	if err != nil {
		return nil, err
	}
	y.Table, y.Eaten, y.Now = served.weeks, served.eaten, l.now
	y.FirstYear = y.Table[:min(l.rules.sowingWeeks(), len(y.Table))]
	y.Totals = l.totals(plantings, served)
	y.IdleShare = l.idleShare(plantings)
	return y, nil
}

func (l *Lay) tellPlanting(p plan.Planting) Planting {
	c, b := &l.choices[p.Cand], l.beds[p.Bed]
	out := Planting{
		Crop: c.crop, Class: c.class, Route: c.route, Place: b.place.Name, PlaceNo: p.Bed, Pots: b.place.Kind == garden.Pots,
		Start: l.Monday(c.sowWeek), SetOut: calendar.None, OnGround: l.Monday(c.outWeek),
		Clear: l.Monday(c.numbers.End), Beyond: c.numbers.End >= l.rules.weeks(), Courses: c.courses, Lost: c.lost,
	}
	if c.route.Raised {
		out.SetOut = out.OnGround
	}
	out.FromCM = b.fromCM(p.Strip)
	var length float64
	length, out.RowCM = l.rowed(p)
	out.ToCM, out.EndCM = out.FromCM+int(math.Round(length)), b.fromCM(p.Strip+p.Strips)
	out.FirstPick = l.pickOdds(c.courses)
	spacing := ground.SpacingOf(c.route)
	spacing.BetweenRowCM = out.RowCM
	out.Layout = ground.Plants(b.place, spacing, length)
	out.Seeds = l.seeds(c, out.Layout.Plants)
	out.Kg, out.Portions = l.weighOdds(c.crop, scaled(c.numbers.Yield, l.rowShare(p)), p.Strips)
	out.Reasons = l.reasons(p)
	return out
}

func (l *Lay) tellStanding(s *stood) Planting {
	b := l.beds[s.bed]
	out := Planting{
		Crop: s.crop, Class: s.Class, Route: s.route, Place: b.place.Name, PlaceNo: s.bed, Pots: b.place.Kind == garden.Pots,
		Stands: true, Start: s.Started, SetOut: s.SetOut, OnGround: l.from,
		Clear: l.Monday(s.numbers.End), Beyond: s.numbers.End >= l.rules.weeks(), Courses: s.courses,
	}
	out.FromCM, out.ToCM = b.fromCM(s.strip), b.fromCM(s.strip+s.strips)
	out.EndCM = out.ToCM
	out.FirstPick = l.pickOdds(s.courses)
	out.Layout = ground.Plants(b.place, ground.SpacingOf(s.route), float64(out.ToCM-out.FromCM))
	out.Kg, out.Portions = l.weighOdds(s.crop, s.numbers.Yield, s.strips)
	for _, c := range s.courses {
		if c.Failed() {
			out.Lost++
		}
	}
	out.Reasons = []string{"It stands already; what it still gives is counted before anything is sown."}
	return out
}

// pickOdds turns the courses' first pickings into days of the plan's year.
func (l *Lay) pickOdds(courses []grow.Course) DateOdds {
	odds := grow.OddsOf(courses, func(c grow.Course) calendar.Date {
		if c.Failed() {
			return calendar.None
		}
		return c.FirstPick
	})
	day := func(after int) calendar.Date {
		if after == grow.Never {
			return calendar.None
		}
		return l.from.Add(int(courses[0].Start-l.years[0]) + after)
	}
	return DateOdds{day(odds.P10), day(odds.P50), day(odds.P90)}
}

// weighOdds is what some strips give within the plan, by year.
func (l *Lay) weighOdds(cr *crop.Crop, yields []plan.Yield, strips int) (kg, portions Odds) {
	perYear := make([]float64, len(yields))
	for y := range yields {
		for _, g := range yields[y].Grams {
			perYear[y] += float64(g) * float64(strips) / 1000
		}
	}
	kg = oddsOf(perYear)
	perKg := portionsOf(cr)
	return kg, Odds{kg.P10 * perKg, kg.P50 * perKg, kg.P90 * perKg}
}

// idleShare is the bare part of the ground over the first year.
func (l *Lay) idleShare(plantings []plan.Planting) float64 {
	weeks := min(l.rules.weeks(), l.rules.sowingWeeks())
	used, all := 0, 0
	for i := range l.beds {
		all += l.beds[i].numbers.Len * max(0, weeks-l.now)
	}
	closed := map[[3]int]bool{} // bed, strip, week: closures may overlap
	for _, c := range l.closed {
		for strip := c.Strip; strip < c.Strip+c.Strips; strip++ {
			for week := c.From; week < min(weeks, c.To); week++ {
				closed[[3]int{c.Bed, strip, week}] = true
			}
		}
	}
	used += len(closed)
	for i := range l.standing {
		used += l.standing[i].strips * min(weeks, l.standing[i].numbers.End)
	}
	for _, p := range plantings {
		c := &l.choices[p.Cand].numbers
		used += p.Strips * max(0, min(weeks, c.End)-c.Start)
	}
	if all == 0 {
		return 0
	}
	return 1 - float64(used)/float64(all)
}
