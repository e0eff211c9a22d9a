package app

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/cropping"
	"haulm/internal/ground"
	"haulm/internal/season"
	"haulm/internal/unit"
)

// WriteSummary tells a plan in plain text: what goes where and when, what the
// table gets month by month, and how good and bad years differ. expected is what
// each planting is to do.
func WriteSummary(w io.Writer, p *Planned, expected []season.Expected, estimated bool) {
	y := p.Year
	years := season.YearsWords(y.WeatherYears, estimated)
	fmt.Fprintf(w, "%s: the plan from %s, grown through the weather of %s.\n", y.Garden, y.From.Format("2 January 2006"), years)
	fmt.Fprintf(w, "First pickings, and weights in brackets, hold %s.\n", season.HoldsWords(years))
	fmt.Fprint(w, "What is lost, the table and the totals are by the weather alone, at a middling pace and yield.\n")
	writePlaces(w, y, expected)
	writeClumps(w, y)
	writeMonths(w, y)
	writeTotals(w, y)
	if p.TidyLoss > 0 {
		fmt.Fprintf(w, "Whole rows and even steps between sowings cost %.1f %% of its worth.\n", 100*p.TidyLoss)
	}
	if p.Shade > 0 {
		fmt.Fprintf(w, "Tall crops stand to the pole side of their beds where that is free; the noon shade that is left on others comes to %.0f m² for a week. It is not charged.\n", p.Shade)
	}
	if r := p.Result; r.Bound > 0 && r.Gap < worthTellingGap {
		fmt.Fprintf(w, "No plan for this ground can beat it by more than %.1f %% (worth %.0f of at most %.0f, in first portions of a usual dish).\n",
			100*r.Gap/(1-r.Gap), r.Value, r.Bound)
	}
}

// worthTellingGap is how close a bound must be to tell a person anything.
const worthTellingGap = 0.5

func writePlaces(w io.Writer, y *cropping.Year, expected []season.Expected) {
	place := ""
	for i := range y.Plantings {
		p, e := &y.Plantings[i], &expected[i]
		if p.Place != place {
			place = p.Place
			fmt.Fprintf(w, "\n%s\n", place)
		}
		fmt.Fprintf(w, "  %-11s %-30s %-26s %11s  %-22s clear %-9s %5.1f kg (%s)%s\n",
			stretch(p), cropWords(p), begins(p), setOutWords(p), picks(p, e), p.Clear.Format("2 Jan 06"),
			p.Kg.P50, unit.Metric.MassSpan(unit.Kilogram(e.LowKg), unit.Kilogram(e.HighKg)), lost(p))
	}
}

// setOutWords is how many are set out: plants, or the clumps of multi-sown
// modules.
func setOutWords(p *cropping.Planting) string {
	if p.Layout.Clumps > 0 {
		return unit.Counted(p.Layout.Clumps, "clump", "clumps")
	}
	return unit.Counted(p.Layout.Plants, "plant", "plants")
}

// writeClumps says what the clumps above are.
func writeClumps(w io.Writer, y *cropping.Year) {
	var told []string
	for i := range y.Plantings {
		p := &y.Plantings[i]
		if p.Layout.Clumps == 0 {
			continue
		}
		if words := crop.InSentence(p.Crop.Name) + " " + ground.ClumpWords(p.Route); !slices.Contains(told, words) {
			told = append(told, words)
		}
	}
	if len(told) > 0 {
		fmt.Fprintf(w, "\nA clump is the plants of one multi-sown module, set out together: %s.\n", unit.Listed(told))
	}
}

func stretch(p *cropping.Planting) string {
	if p.Pots {
		return fmt.Sprintf("%d pots", p.Layout.Rows)
	}
	return alongM(p.FromCM, p.ToCM)
}

// alongM is from where to where along a bed.
func alongM(fromCM, toCM int) string {
	return fmt.Sprintf("%.1f–%.1f m", float64(fromCM)/100, float64(toCM)/100)
}

// cropWords names a planting; the kind is said where it is not the middling one.
func cropWords(p *cropping.Planting) string {
	words := p.Crop.Name
	if p.Class != "" && p.Class != "mid" {
		words += ", " + p.Class
	}
	return words
}

func begins(p *cropping.Planting) string {
	if p.Stands {
		return "stands since " + p.Start.Format("Jan 06")
	}
	if p.SetOut.Known() {
		return fmt.Sprintf("sow %s, out %s", p.Start.Format("2 Jan"), p.SetOut.Format("2 Jan"))
	}
	return p.Route.Name + " " + p.Start.Format("2 Jan")
}

// picks is when a planting is first picked.
func picks(p *cropping.Planting, e *season.Expected) string {
	switch odds := e.FirstPick; {
	case p.Stands && p.FirstPick.P10.Known() && p.FirstPick.P10 <= p.OnGround:
		return "picking now"
	case odds.P90.Known() && odds.P10 == odds.P90:
		return "pick about " + odds.P10.Format("2 Jan")
	case odds.P90.Known():
		return fmt.Sprintf("pick %s–%s", odds.P10.Format("2 Jan"), odds.P90.Format("2 Jan"))
	case odds.P50.Known():
		return fmt.Sprintf("pick %s, half by %s", odds.P10.Format("2 Jan"), odds.P50.Format("2 Jan"))
	}
	return "often fails"
}

func lost(p *cropping.Planting) string {
	if p.Lost == 0 {
		return ""
	}
	return fmt.Sprintf("  lost %d of %d years", p.Lost, len(p.Courses))
}

// Month is one month of the table's year: portions a week.
type Month struct {
	First    calendar.Date // its first Monday in the plan
	Portions cropping.Odds
	Need     float64
	Store    float64 // share of what is eaten that comes from store, on the mean
}

// Months gathers the table's weeks by the month of their Monday. The odds are
// those of a middling week of the month.
func Months(y *cropping.Year) []Month {
	var months []Month
	weeks := 0.0
	for _, week := range y.Table {
		if len(months) == 0 || months[len(months)-1].First.Month() != week.Monday.Month() {
			months = append(months, Month{First: week.Monday})
			weeks = 0
		}
		m := &months[len(months)-1]
		weeks++
		m.Need += (week.Need - m.Need) / weeks
		m.Portions.P10 += (week.Portions.P10 - m.Portions.P10) / weeks
		m.Portions.P50 += (week.Portions.P50 - m.Portions.P50) / weeks
		m.Portions.P90 += (week.Portions.P90 - m.Portions.P90) / weeks
		m.Store += (storeShare(week) - m.Store) / weeks
	}
	return months
}

func storeShare(week cropping.Week) float64 {
	fresh, store := 0.0, 0.0
	for _, h := range week.Dishes {
		fresh += h.Fresh
		store += h.FromStore
	}
	if fresh+store == 0 {
		return 0
	}
	return store / (fresh + store)
}

func writeMonths(w io.Writer, y *cropping.Year) {
	fmt.Fprintf(w, "\nThe table, portions a week (wanted: %.0f)\n%-10s %6s %9s %6s  %s\n", y.Table[0].Need, "", "poor", "middling", "good", "from store")
	for _, m := range Months(y) {
		short := ""
		if m.Portions.P50 < m.Need/2 {
			short = "  short"
		}
		fmt.Fprintf(w, "%-10s %6.0f %9.0f %6.0f  %3.0f %%  %s%s\n", m.First.Format("Jan 2006"), m.Portions.P10, m.Portions.P50, m.Portions.P90,
			100*m.Store, strings.Repeat("·", int(m.Portions.P50/barPortions)), short)
	}
}

// barPortions is how many portions a dot of the month's bar stands for.
const barPortions = 2

func writeTotals(w io.Writer, y *cropping.Year) {
	t := y.Totals
	fmt.Fprintf(w, "\nThe first year's table: %.0f portions in a middling year, %.0f in a poor one, %.0f in a good one (1, 5 and 9 years of 10).\n",
		t.FirstYear.P50, t.FirstYear.P10, t.FirstYear.P90)
	fmt.Fprintf(w, "It picks %.0f kg from %.0f m² (%.1f kg/m²) with %.0f hours of work (%.0f min/m², %.0f min/kg). Ground idle: %.0f %%.\n",
		t.YearKg.P50, t.GroundM2, t.KgPerM2, t.Minutes/60, t.MinPerM2, t.MinPerKg, 100*y.IdleShare)
	fmt.Fprint(w, "Published whole gardens: ")
	for i, s := range t.Yardsticks {
		if i > 0 {
			fmt.Fprint(w, "; ")
		}
		fmt.Fprintf(w, "%s %g %s", s.Name, s.Value, s.Unit)
	}
	fmt.Fprint(w, ".\n")
}
