package figure

import (
	"haulm/internal/calendar"
	"haulm/internal/unit"
)

// GroundWorth shows what a little more ground would be worth, place by place and
// month by month: where and when it is short.
type GroundWorth struct {
	Frame
	Months []calendar.Date // first day of each
	Places []PlaceWorth
}

// PlaceWorth is one place's price by month, in first portions.
type PlaceWorth struct {
	Name  string
	Month []float64
	All   float64
}

// Heading is the figure's title.
func (g GroundWorth) Heading() string { return g.title("The price of ground, month by month") }

// Reading is how to read the figure.
func (g GroundWorth) Reading() string {
	return "One row a place, one bar a month: what one more square metre there (or pot) would be worth in that month, in first portions. All bars share one scale; the figure at the end is the sum over the plan."
}

// Says sums the figure up.
func (g GroundWorth) Says() string {
	if len(g.Places) == 0 || len(g.Months) == 0 {
		return "No ground to price."
	}
	place, month := g.dearest()
	return "Dearest: " + g.Places[place].Name + " in " + g.Months[month].Format("January 2006") + ", " + unit.Number(g.Places[place].at(month), 1) + "."
}

func (p PlaceWorth) at(month int) float64 {
	if month >= len(p.Month) {
		return 0
	}
	return finite(p.Month[month])
}

// dearest is where and when a price is highest.
func (g GroundWorth) dearest() (place, month int) {
	for i, p := range g.Places {
		for m := range g.Months {
			if p.at(m) > g.Places[place].at(month) {
				place, month = i, m
			}
		}
	}
	return place, month
}

// Table lists the prices.
func (g GroundWorth) Table() (head []string, rows [][]string) {
	head = []string{"Place"}
	for _, m := range g.Months {
		head = append(head, m.Format("Jan 2006"))
	}
	head = append(head, "All")
	for _, p := range g.Places {
		row := []string{p.Name}
		for m := range g.Months {
			row = append(row, unit.Number(p.at(m), 1))
		}
		rows = append(rows, append(row, unit.Number(p.All, 1)))
	}
	return head, rows
}

// SVG draws the figure.
func (g GroundWorth) SVG() string {
	c, s := g.draw()
	return c.finish(s)
}

func (g GroundWorth) draw() (*canvas, sheet) {
	c := &canvas{w: g.width()}
	s := sheet{id: g.id("worth"), kind: "worth", title: g.Heading(), desc: g.Says() + " " + g.Reading(), w: g.width()}
	if len(g.Places) == 0 || len(g.Months) == 0 {
		c.text("No ground to price.", 2, 24, atStart, face{class: "f-muted", size: 14, italic: true})
		s.h = 40
		return c, s
	}
	size, rowH, left, right := 13.0, 44.0, 130.0, 52.0
	if g.narrow() { // the name stands above its bars
		size, rowH, left, right = 12, 58, 2, 40
	}
	place, month := g.dearest()
	most := max(g.Places[place].at(month), 1e-9)
	plot := box{left, 22, g.width() - left - right, rowH * float64(len(g.Places))}
	c.open("g", "aria-hidden", "true")
	g.months(c, plot, size-1)
	for i, p := range g.Places {
		g.row(c, p, box{plot.x, plot.y + float64(i)*rowH, plot.w, rowH}, most, size)
	}
	c.close("g")
	s.h = plot.bottom() + 6
	return c, s
}

// months writes the months' letters above the bars and rules off the years.
func (g GroundWorth) months(c *canvas, plot box, size float64) {
	step := plot.w / float64(len(g.Months))
	for m, day := range g.Months {
		x := plot.x + float64(m)*step
		name := monthNames(day.Month())
		word := name[len(name)-1]
		if textWidth(name[1], size, false)+4 < step {
			word = name[1]
		}
		c.text(word, x+step/2, plot.y-8, atMiddle, face{class: "f-muted", size: size})
		if m > 0 && day.Month() == 1 {
			c.line("f-year", family{}, x, plot.y-18, x, plot.bottom())
		}
	}
}

func (g GroundWorth) row(c *canvas, p PlaceWorth, r box, most, size float64) {
	base := r.bottom() - 6
	if g.narrow() {
		c.text(shorten(p.Name, r.w, size, false, 8), r.x, r.y+14, atStart, face{class: "f-ink", size: size})
	} else {
		c.text(shorten(p.Name, r.x-16, size, false, 8), r.x-10, base-2, atEnd, face{class: "f-ink", size: size})
	}
	high := r.h - 12
	if g.narrow() {
		high -= 16
	}
	step := r.w / float64(len(g.Months))
	for m := range g.Months {
		if h := high * p.at(m) / most; h > 0.3 {
			c.rect("f-bar", family{}, box{r.x + float64(m)*step + 1, base - h, step - 2, h})
		}
	}
	c.line("f-tick", family{}, r.x, base, r.right(), base)
	c.text(unit.Number(p.All, 1), r.right()+right0, base-2, atStart, face{class: "f-ink", size: size})
}

// right0 is the room between the bars and the sum.
const right0 = 8.0
