package web

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"haulm/internal/calendar"
	"haulm/internal/cropping"
	"haulm/internal/garden"
	"haulm/internal/unit"
)

// count shows a whole number with its thousands set apart: 2,310.
func count(x float64) string { return unit.Count(x) }

// counted is "1 week" or "3 weeks".
func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return count(float64(n)) + " " + many
}

func percent(share float64) string { return unit.Number(100*share, 0) + " %" }

// dayMonth is "2 January".
func dayMonth(d calendar.Date) string { return d.Format("2 January") }

// dayShort is "2 Jan".
func dayShort(d calendar.Date) string { return d.Format("2 Jan") }

// dayLong is "2 January 2027".
func dayLong(d calendar.Date) string { return d.Format("2 January 2006") }

// monthDay is "2 January", or a dash where it does not come.
func monthDay(md *calendar.MonthDay) string {
	if md == nil {
		return "–"
	}
	return md.In(2001).Format("2 January")
}

// between is "12 July to 3 August", as far as the odds are known.
func between(o cropping.DateOdds) string {
	switch {
	case o.P10.Known() && o.P90.Known() && o.P10 == o.P90:
		return dayShort(o.P10)
	case o.P10.Known() && o.P90.Known():
		return dayShort(o.P10) + " – " + dayShort(o.P90)
	case o.P10.Known():
		return dayShort(o.P10) + " – not every year"
	case o.P50.Known():
		return "by " + dayShort(o.P50) + " in half"
	}
	return "–"
}

// shortMonthDay is "2 Jan", or a dash.
func shortMonthDay(md *calendar.MonthDay) string {
	if md == nil {
		return "–"
	}
	return md.In(2001).Format("2 Jan")
}

// sentence ends s with a full stop, unless it ends itself.
func sentence(s string) string {
	s = strings.TrimSpace(s)
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".?!:") {
		return s
	}
	return s + "."
}

// capital writes the first letter large.
func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// dishName is a dish as it stands on a page.
func dishName(dish string) string { return capital(strings.ReplaceAll(dish, "_", " ")) }

// stretch is where along a place something stands: "0.3–1.2 m", "pots 2–3".
func stretch(fromCM, toCM int, pots bool, u unit.System) string {
	if pots {
		first, last := fromCM/garden.PotPitchCM+1, toCM/garden.PotPitchCM
		if first >= last {
			return "pot " + strconv.Itoa(first)
		}
		return fmt.Sprintf("pots %d–%d", first, last)
	}
	from, to := float64(fromCM)/100, float64(toCM)/100
	if u == unit.Imperial {
		return unit.Number(float64(unit.Metre(from).Feet()), 1) + "–" + unit.Number(float64(unit.Metre(to).Feet()), 1) + " ft"
	}
	return unit.Number(from, 2) + "–" + unit.Number(to, 2) + " m"
}

// dishWords is a dish in the run of a sentence.
func dishWords(dish string) string { return strings.ReplaceAll(dish, "_", " ") }

// firstOf is the first of listed words.
func firstOf(words string) string {
	first, _, _ := strings.Cut(words, ",")
	first, _, _ = strings.Cut(first, " and ")
	return first
}
