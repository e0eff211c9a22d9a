package web

import (
	"haulm/internal/calendar"
	"haulm/internal/cropping"
	"haulm/internal/season"
	"haulm/internal/unit"
)

// foretold is what a planting is to do, in words, with the doubt of the growth
// model beside that of the weather.
type foretold struct {
	First        step // its first picking
	Kg, Portions string
	Span         string // what the spans count
	Weather      string // what the weather alone takes, and what it does not tell
}

func newForetold(p *cropping.Planting, e *season.Expected, estimated bool, u unit.System) foretold {
	f := foretold{
		First: firstPicking(e, p.Start.Year()),
		Kg:    massSpan(e, u), Portions: unit.Span(e.LowPortions, e.HighPortions, 0, "portion", "portions"),
		Span:    "Weight and first picking hold " + season.HoldsWords(season.YearsWords(len(p.Courses), estimated)) + ". Your diary narrows that.",
		Weather: "The weather alone takes it in " + noneOr(p.Lost) + " of those years; " + notCounted + ".",
	}
	if cutShort(p) {
		f.First = step{Day: "–", Do: "No picking: the season ended it before."}
	}
	if cutShort(p) || e.HighKg < leastToldKg {
		f.Kg, f.Portions = "nothing within the plan", ""
	}
	return f
}

// notCounted is what a count of lost years leaves out.
const notCounted = "slugs, disease or a missed sowing are not in that count"

func massSpan(e *season.Expected, u unit.System) string {
	return u.MassSpan(unit.Kilogram(e.LowKg), unit.Kilogram(e.HighKg))
}

// leastToldKg is less than any page shows.
const leastToldKg = 0.05

func noneOr(n int) string {
	if n == 0 {
		return "none"
	}
	return count(float64(n))
}

// firstPicking is the step of the first picking, of a planting begun in a year.
func firstPicking(e *season.Expected, year int) step {
	out := step{Day: "–", Do: "It comes to no picking more often than not."}
	switch odds := e.FirstPick; {
	case odds.P90.Known():
		out = step{Day: daySpan(odds.P10, odds.P90, year), Do: "First picking, 8 times in 10."}
	case odds.P50.Known():
		out = step{Day: "by " + dayIn(odds.P50, year), Do: "First picking, 5 times in 10 by then; it comes fewer than 9 times in 10."}
	}
	if e.KindsLeftOut {
		out.Why = "Over the weather alone."
	}
	return out
}

// daySpan is "3 Jul – 1 Aug", or "about 3 Jul" where both ends are one day.
func daySpan(from, to calendar.Date, year int) string {
	if from == to {
		return "about " + dayIn(from, year)
	}
	return dayShort(from) + " – " + dayIn(to, year)
}
