package figure

import (
	"fmt"

	"haulm/internal/calendar"
)

// OddsStrip shows, for each of several plantings, every year on record as one
// tick on the day it would have been ready, and a cross for every year lost.
type OddsStrip struct {
	Frame
	Rows []OddsRow
}

// OddsRow is one planting over the years.
type OddsRow struct {
	Label  string
	Note   string // how and when: "drilled 21 June"
	Href   string
	Family string
	Start  calendar.Date // the start day in the year planned; ticks are moved to that year
	P10    calendar.Date // first picking in the earliest year in ten, in the year planned; None where too few years
	P50    calendar.Date
	P90    calendar.Date
	Years  []OddsYear
}

// OddsYear is one year of weather on record.
type OddsYear struct {
	Year    int
	Started calendar.Date // the start day in that year
	Ready   calendar.Date // None: lost
	Mishap  string        // what took it: "frost, 14 October"
}

// Heading is the figure's title.
func (o OddsStrip) Heading() string { return o.title("Would it have made it?") }

// Reading is how to read the figure.
func (o OddsStrip) Reading() string {
	return "One tick for each year on record, on the day of first picking; years on one day are piled up. " +
		"Box: eight years of ten; firm line: half the years. × a year lost."
}

// Says sums the figure up.
func (o OddsStrip) Says() string {
	if len(o.Rows) == 0 {
		return "No plantings to show."
	}
	say := ""
	for i, r := range o.Rows {
		if i == 6 && len(o.Rows) > 7 {
			return say + fmt.Sprintf("And %d more.", len(o.Rows)-i)
		}
		say += r.says() + " "
	}
	return say[:len(say)-1]
}

func (r OddsRow) says() string {
	lost := r.lost()
	name := r.Label
	if r.Note != "" {
		name += ", " + r.Note
	}
	switch {
	case len(r.Years) == 0:
		return name + ": no years on record."
	case len(lost) == len(r.Years):
		return fmt.Sprintf("%s: lost in all %d years.", name, len(lost))
	}
	say := name + ": "
	if r.P10.Known() && r.P90.Known() {
		say += "ready " + dayMonth(r.P10, false) + " to " + dayMonth(r.P90, false) + ", "
	}
	if len(lost) == 0 {
		return say + fmt.Sprintf("never lost in %d years.", len(r.Years))
	}
	return say + fmt.Sprintf("lost in %d of %d years.", len(lost), len(r.Years))
}

func (r OddsRow) lost() []OddsYear {
	var list []OddsYear
	for _, y := range r.Years {
		if !y.Ready.Known() {
			list = append(list, y)
		}
	}
	return list
}

// moved is the day of y's first picking, moved to the year planned: the same
// day and month, as many new years after the start.
func (r OddsRow) moved(y OddsYear) calendar.Date {
	if !y.Ready.Known() {
		return calendar.None
	}
	years := y.Ready.Year() - y.Started.Year()
	return calendar.MonthDayOf(y.Ready).In(r.Start.Year() + years)
}

// Table lists the years, one column a planting.
func (o OddsStrip) Table() (head []string, rows [][]string) {
	head = []string{"Planting", "Earliest year in ten", "Half the years", "Latest year in ten", "Lost", "Each year"}
	for _, r := range o.Rows {
		years := ""
		for i, y := range r.Years {
			if i > 0 {
				years += "; "
			}
			years += y.says()
		}
		name := r.Label
		if r.Note != "" {
			name += ", " + r.Note
		}
		rows = append(rows, []string{name, dayMonthYear(r.P10), dayMonthYear(r.P50), dayMonthYear(r.P90),
			fmt.Sprintf("%d of %d", len(r.lost()), len(r.Years)), years})
	}
	return head, rows
}

func (y OddsYear) says() string {
	if y.Ready.Known() {
		return fmt.Sprintf("%d: %s", y.Year, dayMonth(y.Ready, false))
	}
	if y.Mishap == "" {
		return fmt.Sprintf("%d: lost", y.Year)
	}
	return fmt.Sprintf("%d: lost, %s", y.Year, y.Mishap)
}

// SVG draws the figure.
func (o OddsStrip) SVG() string {
	c, s := o.draw()
	return c.finish(s)
}

func (o OddsStrip) draw() (*canvas, sheet) {
	l := newOddsLayout(o)
	s := sheet{id: l.id, kind: "odds", title: o.Heading(), desc: o.Says() + " " + o.Reading(), w: o.width(), interactive: true}
	if len(o.Rows) == 0 {
		l.c.text("No plantings to show.", 2, 24, atStart, face{class: "f-muted", size: 14, italic: true})
		s.h = 40
		return l.c, s
	}
	y := 0.0
	if l.s.days > 0 {
		l.c.open("g", "aria-hidden", "true")
		l.c.drawYears(l.s, 12, l.small, nil)
		l.c.drawMonths(l.s, 28, l.small)
		l.c.close("g")
		y = 34
	}
	for _, r := range o.Rows {
		y = l.row(r, y)
	}
	s.h = y + 2
	return l.c, s
}
