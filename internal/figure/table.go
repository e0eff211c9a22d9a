package figure

import (
	"fmt"

	"haulm/internal/calendar"
	"haulm/internal/unit"
)

// TableYear shows the portions of each week, stacked by family or dish,
// against what the table needs.
type TableYear struct {
	Frame
	From  calendar.Date // Monday of the first week
	Bands []TableBand   // drawn from the bottom up, what comes from store first
	Need  []float64     // portions per week
	Poor  []float64     // total in the poor year in ten; nil where unknown
	Good  []float64     // total in the good year in ten; nil where unknown
	Today calendar.Date // what lies before it has happened; no line on a day that is not within, or is the first
}

// TableBand is one layer of the stack.
type TableBand struct {
	Label    string
	Short    string // a shorter name; may be empty
	Family   string
	Stored   bool // eaten from store: hatched
	Portions []float64
}

// shortBy is how many portions may be missing before a week counts as short:
// less than half a portion is rounding.
const shortBy = 0.5

// Heading is the figure's title.
func (t TableYear) Heading() string { return t.title("The table’s year") }

// Reading is how to read the figure.
func (t TableYear) Reading() string {
	if t.begun() {
		return "Portions a week. Left of the upright line, today: what came; right of it: what is to come. " + tableLines
	}
	return "Portions a week. " + tableLines
}

const tableLines = "Hatched: from store. Firm line: what the table needs. Long dashes: a good year in ten; short dashes: a poor one. " +
	"Rust ticks: the table goes short."

// begun says whether part of the year is past.
func (t TableYear) begun() bool { return t.Today > t.From && t.Today < t.From.Add(7*t.weeks()) }

func (t TableYear) weeks() int {
	n := max(len(t.Need), len(t.Poor), len(t.Good))
	for _, b := range t.Bands {
		n = max(n, len(b.Portions))
	}
	return n
}

func (t TableYear) total(week int) float64 {
	var sum float64
	for _, b := range t.Bands {
		if week < len(b.Portions) {
			sum += finite(b.Portions[week])
		}
	}
	return sum
}

// shortWeeks are the weeks in which the stack stays under the need.
func (t TableYear) shortWeeks() []int {
	var list []int
	for week := range t.Need {
		if t.total(week) < t.Need[week]-shortBy {
			list = append(list, week)
		}
	}
	return list
}

// Says sums the figure up.
func (t TableYear) Says() string {
	n := t.weeks()
	if n == 0 || len(t.Bands) == 0 {
		return "Nothing reaches the table: no plantings and no stores."
	}
	var sum, need float64
	for week := range n {
		sum += t.total(week)
		if week < len(t.Need) {
			need += finite(t.Need[week])
		}
	}
	say := fmt.Sprintf("%.0f portions over %s from %s", sum, unit.Counted(n, "week", "weeks"), dayMonthYear(t.From))
	if need > 0 {
		say += fmt.Sprintf(", against %.0f needed", need)
	}
	short := t.shortWeeks()
	if len(short) == 0 {
		return say + ". No week goes short." + t.doubtSays()
	}
	worst := short[0]
	for _, w := range short {
		if t.Need[w]-t.total(w) > t.Need[worst]-t.total(worst) {
			worst = w
		}
	}
	return say + fmt.Sprintf(". %s short, worst from %s: %.0f of %.0f portions.", unit.Counted(len(short), "week goes", "weeks go"),
		dayMonth(t.From.Add(7*worst), false), t.total(worst), t.Need[worst]) + t.doubtSays()
}

// doubtSays tells the week that differs most from year to year.
func (t TableYear) doubtSays() string {
	widest, most := -1, shortBy
	for week := range min(len(t.Poor), len(t.Good)) {
		if d := finite(t.Good[week]) - finite(t.Poor[week]); d > most {
			widest, most = week, d
		}
	}
	if widest < 0 {
		return ""
	}
	return fmt.Sprintf(" Years differ most in the week from %s: %.0f portions in a poor year in ten, %.0f in a good one.",
		dayMonth(t.From.Add(7*widest), false), finite(t.Poor[widest]), finite(t.Good[widest]))
}

// Table lists the weeks.
func (t TableYear) Table() (head []string, rows [][]string) {
	head = []string{"Week from"}
	for _, b := range t.Bands {
		name := b.Label
		if b.Stored {
			name += " (store)"
		}
		head = append(head, name)
	}
	head = append(head, "All", "Need", "Poor year in ten", "Good year in ten", "Short by")
	for week := range t.weeks() {
		row := []string{t.From.Add(7 * week).String()}
		for _, b := range t.Bands {
			row = append(row, cell(b.Portions, week))
		}
		short := ""
		if week < len(t.Need) && t.total(week) < t.Need[week]-shortBy {
			short = unit.Number(t.Need[week]-t.total(week), 1)
		}
		rows = append(rows, append(row, unit.Number(t.total(week), 1), cell(t.Need, week), cell(t.Poor, week), cell(t.Good, week), short))
	}
	return head, rows
}

func cell(list []float64, i int) string {
	if i >= len(list) {
		return ""
	}
	return unit.Number(list[i], 1)
}

// SVG draws the figure.
func (t TableYear) SVG() string {
	c, s := t.draw()
	return c.finish(s)
}

func (t TableYear) draw() (*canvas, sheet) {
	l := newTableLayout(t)
	s := sheet{id: l.id, kind: "table", title: t.Heading(), desc: t.Says() + " " + t.Reading(), w: t.width()}
	if t.weeks() == 0 {
		l.c.text("Nothing reaches the table yet.", 2, 24, atStart, face{class: "f-muted", size: 14, italic: true})
		s.h = 40
		return l.c, s
	}
	l.c.open("g", "aria-hidden", "true")
	l.grid()
	l.bands()
	l.shortTicks()
	l.lines()
	l.today()
	l.lineNames()
	l.bandNames()
	bottom := l.foot()
	l.c.close("g")
	s.h, s.defs = bottom, hatch(l.id+"-store", "f-hatchline", family{}, 5)
	return l.c, s
}
