package cropping

import (
	"math"
	"slices"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/garden"
	"haulm/internal/ground"
	"haulm/internal/grow"
	"haulm/internal/kitchen"
	"haulm/internal/plan"
)

// Given is a planting that was begun before Question.Today, as the running
// season has re-grown it: whatever is planned, it stands where it stands and
// brings what it brings.
type Given struct {
	Crop  *crop.Crop
	Class string
	Route *crop.Route
	Place string

	FromCM, ToCM int // both 0 where only the place is known
	Plants       int
	Start        calendar.Date
	SetOut       calendar.Date // done, or when it will be; None where it is sown in place
	FirstPick    DateOdds
	Words        string // how it does, in one line
	Rests        []Rest // one a past year
}

// Rest is what is still to come of a given planting in one past year's weather.
type Rest struct {
	Past     calendar.Date // the day of that year which stands for Question.Today
	Clear    calendar.Date // real day on which its ground comes free; None beyond what can be seen
	Failed   bool
	Pickings []Portion
}

// Portion is what was or will be picked in the week of a day.
type Portion struct {
	Day calendar.Date
	Kg  float64
}

// Picked is what was picked of a dish before Question.Today.
type Picked struct {
	Dish string
	Portion
}

// given is a Given laid out: its yields by weather year, and its ground.
type given struct {
	*Given
	dish   int // index, -1 where the table does not take it
	yields []plan.Yield
	end    int // week in which its ground is counted free
	out    int // week in which it takes its ground
	bed    int
	failed int
}

// layGiven puts what was begun, what was picked and what lies in store beside
// the plan: its ground is closed to anything else, and what it brings comes to
// the table from a bed that cannot be planted.
func (l *Lay) layGiven() {
	for i := range l.question.Given {
		g := given{Given: &l.question.Given[i], dish: -1}
		if dish, eaten := l.dishIndex[g.Crop.Dish]; eaten {
			g.dish = dish
		}
		g.bed = l.bedNamed(g.Place)
		l.growGiven(&g)
		l.given = append(l.given, g)
		if g.dish >= 0 {
			l.bring(g.dish, g.yields)
		}
		l.closeGround(&g)
	}
	for _, p := range l.question.Picked {
		if dish, eaten := l.dishIndex[p.Dish]; eaten {
			l.bring(dish, l.sameEveryYear(p.Portion))
		}
	}
}

// growGiven spreads what is still to come over the weeks of the plan, each
// weather year by the past year that began on the same day. A weather year that
// the season has not got takes another's: the odds stay, only the pairing goes.
func (l *Lay) growGiven(g *given) {
	g.yields = make([]plan.Yield, len(l.years))
	var clear []float64
	for y := range l.years {
		rest := l.restOf(g.Rests, y)
		if rest == nil || rest.Failed {
			g.failed++
			continue
		}
		g.yields[y] = l.weeklyKg(rest.Pickings)
		week := l.rules.weeks()
		if rest.Clear.Known() {
			week = min(week, l.weekOf(rest.Clear-1)+1)
		}
		clear = append(clear, float64(max(week, l.now)))
	}
	g.out, g.end = l.now, l.now
	if len(clear) > 0 {
		g.end = int(math.Ceil(grow.Quantile(clear, l.rules.ClearShare)))
	}
	if g.SetOut.Known() && g.SetOut >= l.question.Today {
		g.out = max(l.now, l.weekOf(g.SetOut))
	}
	for y := range g.yields {
		g.yields[y] = clip(g.yields[y], g.end)
	}
}

// restOf is the rest for weather year y; nil where there is none at all.
func (l *Lay) restOf(rests []Rest, y int) *Rest {
	if len(rests) == 0 {
		return nil
	}
	const sameDays = 10 // calendar days shift a little from year to year; the next year is far beyond
	today := l.years[y] + (l.question.Today - l.from)
	for i := range rests {
		if apart := int(rests[i].Past - today); apart <= sameDays && apart >= -sameDays {
			return &rests[i]
		}
	}
	return &rests[y%len(rests)]
}

// weeklyKg lays pickings on the weeks of the plan, in grams.
func (l *Lay) weeklyKg(pickings []Portion) plan.Yield {
	grams := make([]float64, l.rules.weeks())
	for _, p := range pickings {
		if week := l.weekOf(p.Day); week >= 0 && week < len(grams) {
			grams[week] += 1000 * p.Kg
		}
	}
	return yieldOf(grams)
}

// yieldOf leaves away the empty weeks at both ends.
func yieldOf(grams []float64) plan.Yield {
	var y plan.Yield
	for week, g := range grams {
		n := int32(math.Round(g))
		if n == 0 && len(y.Grams) == 0 {
			continue
		}
		if len(y.Grams) == 0 {
			y.First = week
		}
		y.Grams = append(y.Grams, n)
	}
	for len(y.Grams) > 0 && y.Grams[len(y.Grams)-1] == 0 {
		y.Grams = y.Grams[:len(y.Grams)-1]
	}
	return y
}

func (l *Lay) sameEveryYear(p Portion) []plan.Yield {
	yield := l.weeklyKg([]Portion{p})
	out := make([]plan.Yield, len(l.years))
	for y := range out {
		out[y] = yield
	}
	return out
}

// bring adds what comes to the table whatever is planned.
func (l *Lay) bring(dish int, yields []plan.Yield) {
	if l.brought == nil {
		l.brought = map[int][]plan.Yield{}
	}
	sum := l.brought[dish]
	if sum == nil {
		l.brought[dish] = slices.Clone(yields)
		return
	}
	for y := range sum {
		grams := make([]float64, l.rules.weeks())
		for _, one := range []plan.Yield{sum[y], yields[y]} {
			for i, g := range one.Grams {
				grams[one.First+i] += float64(g)
			}
		}
		sum[y] = yieldOf(grams)
	}
}

// closeGround keeps everything else off the ground of a given planting while
// it is there.
func (l *Lay) closeGround(g *given) {
	if g.bed < 0 || g.ToCM <= g.FromCM || g.end <= g.out {
		return
	}
	first, count := l.beds[g.bed].strips(g.FromCM, g.ToCM)
	l.closed = append(l.closed, plan.Closure{Bed: g.bed, Strip: first, Strips: count, From: g.out, To: g.end})
}

// begunHere are this season's beginnings as rotation remembers them.
func begunHere(q Question) []garden.Grown {
	season := calendar.SeasonYear(q.From.Monday(), q.Climate.South())
	out := slices.Clone(q.Stood)
	for i := range q.Given {
		if g := &q.Given[i]; g.ToCM > g.FromCM {
			out = append(out, garden.Grown{Place: g.Place, FromCM: g.FromCM, ToCM: g.ToCM, Crop: g.Crop.Key, Year: season})
		}
	}
	return out
}

// tellGiven puts a given planting into the gardener's terms.
func (l *Lay) tellGiven(g *given) Planting {
	out := Planting{
		Crop: g.Crop, Class: g.Class, Route: g.Route, Place: g.Place, PlaceNo: g.bed, Stands: true,
		FromCM: g.FromCM, ToCM: g.ToCM, EndCM: g.ToCM, Start: g.Start, SetOut: g.SetOut, OnGround: l.Monday(g.out),
		FirstPick: g.FirstPick, Clear: l.Monday(g.end), Beyond: g.end >= l.rules.weeks(), Lost: g.failed,
	}
	if g.bed >= 0 {
		place := l.beds[g.bed].place
		out.Pots = place.Kind == garden.Pots
		out.Layout = ground.Plants(place, ground.SpacingOf(g.Route), float64(g.ToCM-g.FromCM))
	}
	if out.Layout.Plants == 0 {
		out.Layout.Plants, out.Layout.Clumps = g.Plants, ground.Clumps(garden.Place{}, ground.SpacingOf(g.Route), g.Plants)
	}
	out.Kg, out.Portions = l.weighOdds(g.Crop, g.yields, 1)
	out.Reasons = []string{capital(g.Words) + "."}
	return out
}

func capital(s string) string {
	if s == "" {
		return "It stands"
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// layBrought adds what comes whatever is planned as beds on which nothing can
// grow: one strip a dish.
func (l *Lay) layBrought(p *plan.Problem) {
	dishes := make([]int, 0, len(l.brought))
	for dish := range l.brought {
		dishes = append(dishes, dish)
	}
	slices.Sort(dishes)
	bed := plan.Bed{Kind: storeKind}
	for _, dish := range dishes {
		bed.Standing = append(bed.Standing, plan.Standing{Crop: dish, Strip: bed.Len, Strips: 1, End: l.rules.weeks(), Yield: l.brought[dish]})
		bed.Ban = append(bed.Ban, math.MaxUint16)
		bed.Len++
	}
	if bed.Len > 0 {
		p.Beds = append(p.Beds, bed)
	}
}

// portionsOf is a dish's portions in a kg.
func portionsOf(cr *crop.Crop) float64 {
	perKg, err := kitchen.PortionsPerKg(cr.Portion)
	if err != nil {
		return 0 // the catalogue's loader refuses such a portion
	}
	return perKg
}

// FreeFrom is the Monday from which the ground of a given planting counts as
// free, seen from a day within the plan; None where it stands to the plan's end.
func (l *Lay) FreeFrom(g *Given, today calendar.Date) calendar.Date {
	from := *l
	from.question.Today, from.now = today, max(0, int(today-l.from)/7)
	laid := given{Given: g}
	from.growGiven(&laid)
	if laid.end >= l.rules.weeks() {
		return calendar.None
	}
	return l.Monday(laid.end)
}

// SowingWeeks is how many weeks of a plan things are begun in.
func SowingWeeks() (int, error) {
	rules, err := loadRules()
	return rules.sowingWeeks(), err
}
