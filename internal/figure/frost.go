package figure

import (
	"fmt"

	"haulm/internal/calendar"
	"haulm/internal/unit"
)

// FrostOdds shows how likely a frost still is on each day of spring and how
// likely it has already come on each day of autumn, over the years on record.
type FrostOdds struct {
	Frame
	From       calendar.Date // first day of the season year drawn; ticks are moved to it
	ThresholdC float64       // at or below which it is a frost
	Years      []FrostYear
	Spring     FrostDates // by which the last frost is past, in the year drawn
	Autumn     FrostDates // by which the first frost has come, in the year drawn
	Estimated  bool       // no record: made-up weather
}

// FrostYear is one season year on record.
type FrostYear struct {
	Year        int
	Start       calendar.Date // first day of that season year
	LastSpring  calendar.Date // None: none that spring
	FirstAutumn calendar.Date // None: none that autumn
}

// FrostDates are the three dates marked; None where too few years have frost.
type FrostDates struct{ P10, P50, P90 calendar.Date }

// Heading is the figure's title.
func (f FrostOdds) Heading() string { return f.title("Odds of frost") }

// Reading is how to read the figure.
func (f FrostOdds) Reading() string {
	return "The falling steps: in how many years of ten a frost is still to come. The rising steps: in how many it has already come. " +
		"One tick beneath for each year, on its day."
}

// Says sums the figure up.
func (f FrostOdds) Says() string {
	if len(f.Years) == 0 {
		return "No years on record."
	}
	say := ""
	springs, autumns := f.count()
	switch {
	case springs == 0 && autumns == 0:
		say = fmt.Sprintf("No frost at %s °C or below in %d years.", unit.Number(f.ThresholdC, 1), len(f.Years))
	default:
		say = f.saysSpring(springs) + " " + f.saysAutumn(autumns)
	}
	if f.Estimated {
		say += " Estimated, not measured."
	}
	return say
}

func (f FrostOdds) count() (springs, autumns int) {
	for _, y := range f.Years {
		if y.LastSpring.Known() {
			springs++
		}
		if y.FirstAutumn.Known() {
			autumns++
		}
	}
	return springs, autumns
}

func (f FrostOdds) saysSpring(n int) string {
	say := fmt.Sprintf("Spring frost in %d of %d years.", n, len(f.Years))
	if f.Spring.P50.Known() && f.Spring.P90.Known() {
		say += fmt.Sprintf(" The last is past by %s in half the years, by %s in nine of ten.", dayMonth(f.Spring.P50, false), dayMonth(f.Spring.P90, false))
	}
	return say
}

func (f FrostOdds) saysAutumn(n int) string {
	say := fmt.Sprintf("Autumn frost in %d of %d years.", n, len(f.Years))
	if f.Autumn.P10.Known() && f.Autumn.P50.Known() {
		say += fmt.Sprintf(" The first has come by %s in one year of ten, by %s in half.", dayMonth(f.Autumn.P10, false), dayMonth(f.Autumn.P50, false))
	}
	return say
}

// moved is d moved from its own season year to the one drawn.
func (f FrostOdds) moved(y FrostYear, d calendar.Date) calendar.Date {
	if !d.Known() {
		return d
	}
	return calendar.MonthDayOf(d).In(f.From.Year() + d.Year() - y.Start.Year())
}

// Table lists the dates and every year.
func (f FrostOdds) Table() (head []string, rows [][]string) {
	head = []string{"Year", "Last spring frost", "First autumn frost"}
	none := func(d calendar.Date) string {
		if !d.Known() {
			return "none"
		}
		return dayMonthYear(d)
	}
	mark := func(name string, spring, autumn calendar.Date) {
		if spring.Known() || autumn.Known() {
			rows = append(rows, []string{name, dayMonth(spring, false), dayMonth(autumn, false)})
		}
	}
	mark("earliest year in ten", f.Spring.P10, f.Autumn.P10)
	mark("half the years", f.Spring.P50, f.Autumn.P50)
	mark("latest year in ten", f.Spring.P90, f.Autumn.P90)
	for _, y := range f.Years {
		rows = append(rows, []string{fmt.Sprint(y.Year), none(y.LastSpring), none(y.FirstAutumn)})
	}
	return head, rows
}

// SVG draws the figure.
func (f FrostOdds) SVG() string {
	c, s := f.draw()
	return c.finish(s)
}

func (f FrostOdds) draw() (*canvas, sheet) {
	l := newFrostLayout(f)
	s := sheet{id: l.id, kind: "frost", title: f.Heading(), desc: f.Says() + " " + f.Reading(), w: f.width(), interactive: true}
	springs, autumns := f.count()
	if springs+autumns == 0 {
		l.c.text(shorten(f.Says(), f.width()-4, 13, false, 1), 2, 24, atStart, face{class: "f-muted", size: 13, italic: true})
		s.h = 40
		return l.c, s
	}
	l.grid()
	l.curves()
	l.marks()
	l.between()
	bottom := l.ticks()
	s.h = bottom
	return l.c, s
}
