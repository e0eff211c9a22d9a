package season

import (
	"fmt"
	"math"

	"haulm/internal/calendar"
)

// words says in one line how the planting does.
func (s *Standing) words(today calendar.Date, say measures) string {
	switch s.Stage {
	case Cleared, LostAll, Over:
		return string(s.Stage)
	}
	odds := s.FirstPick
	switch {
	case s.deeds.firstPick.Known():
		return fmt.Sprintf("picked since %s, %s", s.deeds.firstPick.Format("2 January"), s.soFar(say))
	case s.Stage == Raising && bringsNothing(s): // it is not asked to be planted out
		return fmt.Sprintf("gives %s, next to nothing in a middling year", TimesInTen(s.Success))
	case !odds.P50.Known():
		return "gives " + TimesInTen(s.Success)
	case odds.P90.Known() && odds.P90 < today:
		return fmt.Sprintf("should be ready since about %s", odds.P50.Format("2 January"))
	}
	words := "first picking " + Between(odds)
	if s.Stage == Flowering && s.flowers() {
		words = "in flower since " + s.deeds.flowered.Format("2 January") + ", " + words
	}
	if s.LaterOK {
		words += ", " + laterWords(s.Later)
	}
	return words
}

// soFar is what was picked and what is to come.
func (s *Standing) soFar(say measures) string {
	picked := say.weighed(s.PickedKg) + " so far"
	if s.PickedKg <= 0 {
		picked = "nothing weighed"
	}
	if s.ToComeHighKg < nothingKg {
		return picked + ", nothing more to come"
	}
	return picked + ", " + say.weightSpan(s.ToComeLowKg, s.ToComeHighKg) + " to come"
}

// nothingKg is less than a leaf.
const nothingKg = 0.005

// TimesInTen puts a chance into words. A chance is worked out from a few dozen
// weather years and knows nothing of what no year on record brought: neither
// never nor always is said.
func TimesInTen(chance float64) string {
	switch n := math.Round(10 * chance); {
	case n < 1:
		return "less than once in 10"
	case n == 1:
		return "once in 10"
	case n > 9:
		return "more than 9 times in 10"
	default:
		return fmt.Sprintf("%.0f times in 10", n)
	}
}

// Between says when a day comes 8 times in 10, where it comes so often.
func Between(odds Odds) string {
	if !odds.P90.Known() {
		return fmt.Sprintf("by %s 5 times in 10", odds.P50.Format("2 January"))
	}
	if odds.P10 == odds.P90 {
		return "about " + odds.P90.Format("2 January")
	}
	from := odds.P10.Format("2 January")
	if odds.P10.Month() == odds.P90.Month() && odds.P10.Year() == odds.P90.Year() {
		from = odds.P10.Format("2")
	}
	return fmt.Sprintf("%s–%s (8 times in 10)", from, odds.P90.Format("2 January"))
}

// laterWords says how a first picking lies to the plan's. Both are middles of
// whole days, so that a day between them is none.
func laterWords(days int) string {
	switch {
	case days < -1:
		return fmt.Sprintf("%d days earlier than planned", -days)
	case days > 1:
		return fmt.Sprintf("%d days later than planned", days)
	}
	return "as planned"
}
