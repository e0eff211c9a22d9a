package figure

import (
	"fmt"

	"haulm/internal/calendar"
	"haulm/internal/unit"
)

// MonthBars shows the table's year month by month, one bar a line, each with
// the range from the poor to the good year: what a line of TableYear cannot be
// read to the portion for.
type MonthBars struct {
	Frame
	Months []MonthPortions
}

// MonthPortions is a usual week of one month at the table.
type MonthPortions struct {
	Month  calendar.Date // any day in it
	Picked float64       // portions from the ground, in the middling year
	Stored float64       // portions from store
	Need   float64
	Poor   float64 // all portions in the poor year in ten
	Good   float64 // all portions in the good year in ten
}

// doubt is how far the good year lies above the poor one.
func (m MonthPortions) doubt() float64 { return finite(m.Good) - finite(m.Poor) }

func (m MonthPortions) total() float64 { return finite(m.Picked) + finite(m.Stored) }

func (m MonthPortions) short() float64 { return max(m.Need-m.total(), 0) }

// Heading is the figure's title.
func (m MonthBars) Heading() string { return m.title("Portions by month") }

// Reading is how to read the figure.
func (m MonthBars) Reading() string {
	return "Portions in a usual week of the month. Bar: the middling year, filled where picked, hatched from store. " +
		"Thin line over it: from a poor year in ten to a good one. Firm mark: what the table needs. Rust: how many are missing."
}

// Says sums the figure up.
func (m MonthBars) Says() string {
	if len(m.Months) == 0 {
		return "No months to show."
	}
	var short []string
	year := 0
	for _, month := range m.Months {
		if month.short() < shortBy {
			continue
		}
		name := month.Month.Month().String()
		if month.Month.Year() != year {
			name, year = month.Month.Format("January 2006"), month.Month.Year()
		}
		short = append(short, fmt.Sprintf("%s by %.0f", name, month.short()))
	}
	if len(short) == 0 {
		return "Every month meets the need in a middling year." + m.doubtSays()
	}
	return "In a middling year short in " + unit.Listed(short) + "." + m.doubtSays()
}

// doubtSays tells the month that differs most from year to year.
func (m MonthBars) doubtSays() string {
	widest := m.Months[0]
	for _, month := range m.Months {
		if month.doubt() > widest.doubt() {
			widest = month
		}
	}
	if widest.doubt() < shortBy {
		return ""
	}
	return fmt.Sprintf(" Years differ most in %s: %s portions a week in a poor year in ten, %s in a middling one, %s in a good one.",
		widest.Month.Format("January 2006"), unit.Number(widest.Poor, 0), unit.Number(widest.total(), 0), unit.Number(widest.Good, 0))
}

// Table lists the months.
func (m MonthBars) Table() (head []string, rows [][]string) {
	head = []string{"Month", "Picked", "From store", "Middling year", "Need", "Poor year in ten", "Good year in ten", "Short by"}
	for _, month := range m.Months {
		short := ""
		if month.short() >= shortBy {
			short = unit.Number(month.short(), 0)
		}
		rows = append(rows, []string{month.Month.Format("January 2006"), unit.Number(month.Picked, 0), unit.Number(month.Stored, 0), unit.Number(month.total(), 0),
			unit.Number(month.Need, 0), unit.Number(month.Poor, 0), unit.Number(month.Good, 0), short})
	}
	return head, rows
}

// SVG draws the figure.
func (m MonthBars) SVG() string {
	c, s := m.draw()
	return c.finish(s)
}

func (m MonthBars) draw() (*canvas, sheet) {
	c := &canvas{w: m.width()}
	id := m.id("months")
	s := sheet{id: id, kind: "months", title: m.Heading(), desc: m.Says() + " " + m.Reading(), w: m.width(), defs: hatch(id+"-store", "f-hatchline", family{}, 5)}
	if len(m.Months) == 0 {
		c.text("No months to show.", 2, 24, atStart, face{class: "f-muted", size: 14, italic: true})
		s.h = 40
		return c, s
	}
	const rowH = 27.0
	size, left := 13.0, 108.0
	if m.narrow() {
		size, left = 12, 54
	}
	counts, shorts := m.columns(size)
	right := counts + shorts + 26
	most := 1.0
	for _, month := range m.Months {
		most = max(most, month.total(), finite(month.Need), finite(month.Good))
	}
	plot := box{left, 4, m.width() - left - right, rowH * float64(len(m.Months))}
	c.open("g", "aria-hidden", "true")
	for i, month := range m.Months {
		m.row(c, id, month, box{plot.x, plot.y + float64(i)*rowH, plot.w, rowH}, plot.w/most, size, counts)
	}
	c.line("f-tick", family{}, plot.x, plot.y, plot.x, plot.bottom())
	c.close("g")
	s.h = plot.bottom() + 6
	return c, s
}

func (m MonthBars) row(c *canvas, id string, month MonthPortions, r box, perPortion, size, counts float64) {
	base := r.midY() + 4
	c.text(m.rowName(month.Month, r.y < 10), r.x-8, base, atEnd, face{class: "f-ink", size: size})
	if month.Month.Month() == 1 && r.y > 10 {
		c.line("f-year", family{}, 0, r.y, r.right(), r.y)
	}
	const barH = 13.0
	at := box{r.x, r.midY() - barH/2, finite(month.Stored) * perPortion, barH}
	if at.w > 0 {
		c.leaf("rect", "x", num(at.x), "y", num(at.y), "width", num(at.w), "height", num(at.h), "fill", "url(#"+id+"-store)")
		c.rect("f-barframe", family{}, at)
	}
	at.x, at.w = at.right(), finite(month.Picked)*perPortion
	if at.w > 0 {
		c.rect("f-bar", family{}, at)
	}
	if month.doubt() >= shortBy {
		m.whisker(c, r.x+finite(month.Poor)*perPortion, r.x+finite(month.Good)*perPortion, r.midY())
	}
	if month.Need > 0 {
		x := r.x + finite(month.Need)*perPortion
		c.line("f-need", family{}, x, r.y+4, x, r.bottom()-4)
	}
	c.text(unit.Number(month.total(), 0), r.right()+14+counts, base, atEnd, face{class: "f-ink", size: size})
	if month.short() >= shortBy {
		c.text(m.shortWords(month), r.right()+22+counts, base, atStart, face{class: "f-rust", size: size, italic: true})
	}
}

// rowName is a month, with the year where one begins.
func (m MonthBars) rowName(day calendar.Date, first bool) string {
	words, year := monthNames(day.Month())[0], " 2006"
	if m.narrow() {
		words, year = monthNames(day.Month())[1], " ’06"
	}
	if first || day.Month() == 1 {
		words += day.Format(year)
	}
	return words
}

// columns are the widths of the two columns of figures right of the bars.
func (m MonthBars) columns(size float64) (counts, shorts float64) {
	for _, month := range m.Months {
		counts = max(counts, textWidth(unit.Number(month.total(), 0), size, false))
		if month.short() >= shortBy {
			shorts = max(shorts, textWidth(m.shortWords(month), size, false))
		}
	}
	return counts, shorts
}

func (m MonthBars) shortWords(month MonthPortions) string {
	if m.narrow() {
		return "−" + unit.Number(month.short(), 0)
	}
	return "short " + unit.Number(month.short(), 0)
}

// whisker draws the range, on a halo so that it stands out from bar and
// hatching.
func (m MonthBars) whisker(c *canvas, x0, x1, y float64) {
	const end = 5.0 // half the length of its ends
	line := "M" + num(x0) + " " + num(y-end) + "V" + num(y+end) + "M" + num(x0) + " " + num(y) + "H" + num(x1) + "M" + num(x1) + " " + num(y-end) + "V" + num(y+end)
	c.path("f-leadhalo", family{}, line)
	c.path("f-range", family{}, line)
}
