package cropping

import (
	"errors"
	"fmt"
	"slices"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/garden"
	"haulm/internal/grow"
	"haulm/internal/kitchen"
	"haulm/internal/plan"
)

// Question is what a plan is asked for.
type Question struct {
	Garden    *garden.Garden
	Catalogue *crop.Catalogue
	Climate   *grow.Climate
	From      calendar.Date // first day of the plan; moved to its Monday
	Habit     Habit         // what the garden has taught; nil = by the book
	Ended     []Saved       // what stood when the plan began and the season ended before its time, with Until

	// Today, where it lies within the plan, says that the days before it are
	// past: nothing can be begun in them, and what was is given. The zero Date
	// and None say that all of the plan lies ahead.
	Today  calendar.Date
	Given  []Given        // begun and not yet over, in place of the garden's Standing
	Stood  []garden.Grown // begun within the plan and over: what rotation minds
	Begun  []Saved        // of the plan, over or not, as it is told again with them
	Picked []Picked       // before Today
	Only   bool           // grow nothing that Match does not ask for: to tell a plan, not to search
}

// begun says whether part of the plan is past.
func (q *Question) begun() bool { return q.Today.Known() && q.Today > q.From.Monday() }

// Lay is a garden laid out for planning: the problem in numbers, and what its
// numbers stand for.
type Lay struct {
	Problem *plan.Problem

	question  Question
	rules     Rules
	from      calendar.Date
	years     []calendar.Date // the Monday on which each weather year begins
	beds      []bed
	kinds     []kind
	dishes    []kitchen.Dish
	dishIndex map[string]int
	choices   []choice
	standing  []stood
	groups    groups

	grown   map[grownKey][]grow.Course // while one route is laid out; nil otherwise
	sowFrom int                        // first week in which something new can be begun: the first Monday that is not past
	now     int                        // first week that is not past
	given   []given
	before  []garden.Standing    // what stood when the plan began
	brought map[int][]plan.Yield // by dish: what comes whatever is planned
	closed  []plan.Closure
	refused []Unfit
}

// NewLay lays the garden out over every year of weather that reaches from the
// start of the plan to its end.
func NewLay(q Question) (*Lay, error) {
	rules, err := loadRules()
	if err != nil {
		return nil, err
	}
	if len(q.Garden.Places) == 0 {
		return nil, errors.New("the garden has no places: add at least one bed or set of pots")
	}
	l := &Lay{question: q, rules: rules, from: q.From.Monday(), groups: newGroups()}
	l.settle()
	if l.years, err = l.scenarios(); err != nil {
		return nil, err
	}
	if l.dishes, err = kitchen.Dishes(q.Garden, q.Catalogue.Crops()); err != nil {
		return nil, err
	}
	l.dishIndex = map[string]int{}
	for i, d := range l.dishes {
		l.dishIndex[d.Name] = i
	}
	if err := l.layBeds(); err != nil {
		return nil, err
	}
	if !q.Only {
		if err := l.layChoices(); err != nil {
			return nil, err
		}
	}
	if len(l.choices) == 0 && l.now == 0 && !q.Only {
		return nil, errors.New("nothing that the table wants can be grown in these places in this climate: want more dishes, or check sun hours and the weather record")
	}
	if err := l.layStanding(); err != nil {
		return nil, err
	}
	l.layGiven()
	l.Problem = l.problem()
	l.layBegun()
	l.layKeeps()
	if err := l.Problem.Check(); err != nil {
		return nil, fmt.Errorf("laying the garden out: %w", err)
	}
	return l, nil
}

// settle puts what the season has done in place of what the garden said of the
// plan's beginning.
func (l *Lay) settle() {
	q := &l.question
	l.before = q.Garden.Standing
	if !q.begun() {
		q.Given, q.Stood, q.Begun, q.Picked = nil, nil, nil, nil
		return
	}
	l.now = min(int(q.Today-l.from)/7, l.rules.weeks())
	l.sowFrom = int(q.Today-l.from+6) / 7
	own := *q.Garden
	own.Standing, own.History = nil, append(slices.Clone(own.History), begunHere(*q)...)
	q.Garden = &own
}

// Now is the first week of the plan that is not past; 0 where all of it lies
// ahead.
func (l *Lay) Now() int { return l.now }

// Refused are the plantings that the gardener keeps and that cannot be, with why.
func (l *Lay) Refused() []Unfit { return l.refused }

// scenarios finds the weather years: those with every day on record from the
// first sowing of what stands to the end of the plan.
func (l *Lay) scenarios() ([]calendar.Date, error) {
	lead := 0
	for _, s := range l.before { // the same years, whatever became of it since
		if s.Started.Known() {
			lead = max(lead, l.leadDays(s))
		}
	}
	climate := l.question.Climate
	day := calendar.MonthDayOf(l.from)
	var years []calendar.Date
	for year := climate.Start().Year(); year <= climate.End().Year(); year++ {
		monday := day.In(year).Add(3).Monday() // the nearest Monday
		if climate.Whole(monday.Add(-lead), monday.Add(7*l.rules.weeks())) {
			years = append(years, monday)
		}
	}
	if len(years) < l.rules.leastYears() {
		return nil, fmt.Errorf("the weather record has %d years whole enough to plan over (%d weeks from %s); at least %d are needed",
			len(years), l.rules.weeks(), day, l.rules.leastYears())
	}
	return years, nil
}

// week is the week of the plan in which a day of weather year y lies.
func (l *Lay) week(y int, day calendar.Date) int { return floorDiv(int(day-l.years[y]), 7) }

// weekOf is the week of the plan in which a real day lies.
func (l *Lay) weekOf(day calendar.Date) int { return floorDiv(int(day-l.from), 7) }

// Monday is the first day of a week of the plan.
func (l *Lay) Monday(week int) calendar.Date { return l.from.Add(7 * week) }

func floorDiv(a, b int) int {
	q := a / b
	if a%b != 0 && (a < 0) != (b < 0) {
		q--
	}
	return q
}

// problem puts the layout into numbers.
func (l *Lay) problem() *plan.Problem {
	house := l.question.Garden.Household
	p := &plan.Problem{
		Name: l.question.Garden.Name, Weeks: l.rules.weeks(), Years: len(l.years),
		Lambda: l.rules.BadYearWeight, Alpha: l.rules.BadYearShare,
		LabourCap: house.MinutesPerWeek, OvertimeCost: l.rules.OvertimeCost, LabourCost: l.rules.MinuteCost,
		TrayCap: house.IndoorTrays, SetupCost: l.rules.SetupCost,
		Bonus: kitchen.HungryBonuses(l.question.Garden.Site, l.from, l.rules.weeks()),
	}
	for _, b := range l.beds {
		p.Beds = append(p.Beds, b.numbers)
	}
	l.layStore(p)
	l.layBrought(p)
	p.Closed = l.closed
	for _, d := range l.dishes {
		p.Crops = append(p.Crops, l.dishNumbers(d))
	}
	for _, c := range l.choices {
		p.Cands = append(p.Cands, c.numbers)
	}
	return p
}
