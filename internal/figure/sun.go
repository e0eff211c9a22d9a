package figure

import (
	"fmt"
	"time"
)

// SunByMonth shows the hours of direct sun that each place gets on a clear day
// of each month.
type SunByMonth struct {
	Frame
	First  time.Month // leftmost month; 0 = January
	Places []SunPlace
	Wanted float64 // hours that sun-lovers want, drawn as a line; 0 = none
}

// SunPlace is one place's year.
type SunPlace struct {
	Name  string
	Href  string
	Hours [12]float64 // January first
}

// Heading is the figure's title.
func (s SunByMonth) Heading() string { return s.title("Sun on the ground") }

// Reading is how to read the figure.
func (s SunByMonth) Reading() string {
	say := "Hours of direct sun on a clear day in the middle of each month, place by place."
	if s.Wanted > 0 {
		say += fmt.Sprintf(" The line stands at %s hours.", plain(s.Wanted, 1))
	}
	return say
}

// Says sums the figure up.
func (s SunByMonth) Says() string {
	if len(s.Places) == 0 {
		return "No places to show."
	}
	say := ""
	for i, p := range s.Places {
		if i > 0 {
			say += " "
		}
		least, most := time.January, time.January
		for m := time.January; m <= time.December; m++ {
			if p.Hours[m-1] < p.Hours[least-1] {
				least = m
			}
			if p.Hours[m-1] > p.Hours[most-1] {
				most = m
			}
		}
		say += fmt.Sprintf("%s: from %s hours in %s to %s in %s.", p.Name, plain(p.Hours[least-1], 1), least, plain(p.Hours[most-1], 1), most)
	}
	return say
}

func (s SunByMonth) months() []time.Month {
	first := s.First
	if first < time.January || first > time.December {
		first = time.January
	}
	list := make([]time.Month, 12)
	for i := range list {
		list[i] = (first-1+time.Month(i))%12 + 1
	}
	return list
}

// Table lists hours by place and month.
func (s SunByMonth) Table() (head []string, rows [][]string) {
	head = []string{"Place"}
	for _, m := range s.months() {
		head = append(head, m.String())
	}
	for _, p := range s.Places {
		row := []string{p.Name}
		for _, m := range s.months() {
			row = append(row, plain(p.Hours[m-1], 1))
		}
		rows = append(rows, row)
	}
	return head, rows
}

// SVG draws the figure.
func (s SunByMonth) SVG() string {
	c, sh := s.draw()
	return c.finish(sh)
}

func (s SunByMonth) draw() (*canvas, sheet) {
	c := &canvas{w: s.width()}
	sh := sheet{id: s.id("sun"), kind: "sun", title: s.Heading(), desc: s.Says() + " " + s.Reading(), w: s.width()}
	if len(s.Places) == 0 {
		c.text("No places to show.", 2, 24, atStart, face{class: "f-muted", size: 14, italic: true})
		sh.h = 40
		return c, sh
	}
	left, lab, small := 160.0, 13.5, 12.0
	if s.narrow() {
		left, lab, small = 0, 13, 11
	}
	column := (s.width() - left - 2) / 12
	y := 14.0
	s.monthHead(c, left, column, y, small)
	for _, p := range s.Places {
		y = s.place(c, p, box{left, y + 8, column, 66}, lab, small)
	}
	sh.h = y + 8
	return c, sh
}

func (s SunByMonth) monthHead(c *canvas, left, column, y, size float64) {
	c.open("g", "aria-hidden", "true")
	defer c.close("g")
	form := 0
	for _, m := range s.months() {
		for form < 2 && textWidth(monthNames(m)[form], size, false)+3 > column {
			form++
		}
	}
	for i, m := range s.months() {
		c.text(monthNames(m)[form], left+(float64(i)+0.5)*column, y, atMiddle, face{class: "f-muted", size: size})
	}
}

// place draws twelve bars in cells the size of first, with their hours above.
func (s SunByMonth) place(c *canvas, p SunPlace, first box, lab, small float64) float64 {
	if s.narrow() {
		c.text(shorten(p.Name, s.width(), lab, true, 1), 0, first.y+14, atStart, face{class: "f-ink", size: lab, bold: true})
		first.y += 20
	} else {
		for i, line := range wrapWithin(p.Name, first.x-20, lab, false, 2) {
			c.text(line, 0, first.y+first.h-18+float64(i)*16, atStart, face{class: "f-ink", size: lab})
		}
	}
	perHour := (first.h - small - 5) / s.most()
	base := first.bottom()
	size := min(small, first.w*0.42)
	for i, m := range s.months() {
		hours := finite(p.Hours[m-1])
		x := first.x + float64(i)*first.w
		bar := box{x + first.w*0.16, base - hours*perHour, first.w * 0.68, hours * perHour}
		c.rect("f-bar", family{}, bar)
		c.text(plain(hours, 1), x+first.w/2, bar.y-3, atMiddle, face{class: "f-ink", size: size})
	}
	c.line("f-fine", family{}, first.x, base, first.x+12*first.w, base)
	if s.Wanted > 0 && s.Wanted < s.most() {
		for i := range 12 {
			x := first.x + float64(i)*first.w
			if finite(p.Hours[s.months()[i]-1]) >= s.Wanted {
				c.line("f-need", family{}, x+first.w*0.16, base-s.Wanted*perHour, x+first.w*0.84, base-s.Wanted*perHour)
			}
		}
	}
	return base + 6
}

// most is the tallest bar, so that all places share one scale.
func (s SunByMonth) most() float64 {
	most := 1.0
	for _, p := range s.Places {
		for _, h := range p.Hours {
			most = max(most, finite(h))
		}
	}
	return most
}
