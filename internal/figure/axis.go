package figure

import (
	"fmt"
	"time"

	"haulm/internal/calendar"
)

// dayScale lays days along x.
type dayScale struct {
	from calendar.Date
	days int
	x, w float64
}

// at is the x of the start of day d, not clamped.
func (s dayScale) at(d calendar.Date) float64 {
	return s.x + float64(d-s.from)*s.perDay()
}

func (s dayScale) perDay() float64 { return s.w / float64(max(s.days, 1)) }

// clamped is at, kept inside the axis.
func (s dayScale) clamped(d calendar.Date) float64 {
	return min(max(s.at(d), s.x), s.x+s.w)
}

func (s dayScale) end() calendar.Date { return s.from.Add(s.days) }

func (s dayScale) holds(d calendar.Date) bool { return d.Known() && d >= s.from && d <= s.end() }

// span is one month's part of the axis.
type span struct {
	first  calendar.Date // first of the month, perhaps before the axis begins
	x0, x1 float64
}

func (s dayScale) months() []span {
	var list []span
	year, month, _ := s.from.Civil()
	for {
		first := calendar.On(year, month, 1)
		if first >= s.end() {
			return list
		}
		next := calendar.On(year, month+1, 1)
		list = append(list, span{first, s.clamped(first), s.clamped(next)})
		year, month, _ = next.Civil()
	}
}

// monthNames are the forms of a month's name, longest first.
func monthNames(m time.Month) []string {
	name := m.String()
	return []string{name, name[:3], name[:1]}
}

// monthForm picks the longest form that fits every whole month.
func monthForm(months []span, size float64) int {
	for form := range 2 {
		fits := true
		for i, m := range months {
			whole := i > 0 && i < len(months)-1
			if whole && textWidth(monthNames(m.first.Month())[form], size, false)+8 > m.x1-m.x0 {
				fits = false
			}
		}
		if fits {
			return form
		}
	}
	return 2
}

// drawMonths writes month names in the middle of their months on baseline y.
func (c *canvas) drawMonths(s dayScale, y, size float64) {
	months := s.months()
	form := monthForm(months, size)
	fc := face{class: "f-muted", size: size}
	for _, m := range months {
		name := monthNames(m.first.Month())[form]
		if textWidth(name, size, false)+2 <= m.x1-m.x0 {
			c.text(name, (m.x0+m.x1)/2, y, atMiddle, fc)
		}
	}
}

// drawMonthRules rules the months from y0 to y1, firm at the new year.
func (c *canvas) drawMonthRules(s dayScale, y0, y1 float64) {
	for _, m := range s.months() {
		if m.first <= s.from {
			continue
		}
		class := "f-rule"
		if m.first.Month() == time.January {
			class = "f-year"
		}
		c.line(class, family{}, m.x0, y0, m.x0, y1)
	}
}

// drawYears writes each year's number at its beginning on baseline y, keeping
// clear of taken, and returns the boxes.
func (c *canvas) drawYears(s dayScale, y, size float64, taken []box) {
	fc := face{class: "f-ink", size: size, bold: true}
	for _, m := range s.months() {
		newYear := m.first.Month() == time.January
		if m.first > s.from && !newYear {
			continue
		}
		name := fmt.Sprint(m.first.Year())
		b := textBox(name, m.x0+2, y, atStart, fc)
		if b.right() > s.x+s.w || overlapsAny(b, taken) || overlapsAny(b, c.boxes()) {
			continue
		}
		c.text(name, m.x0+2, y, atStart, fc)
	}
}

func (c *canvas) boxes() []box {
	list := make([]box, len(c.labels))
	for i, l := range c.labels {
		list[i] = l.box
	}
	return list
}

// dayMonth is a date as a gardener writes it: 4 July, or 4 Jul where room is
// short.
func dayMonth(d calendar.Date, short bool) string {
	if !d.Known() {
		return "never"
	}
	if short {
		return d.Format("2 Jan")
	}
	return d.Format("2 January")
}

func dayMonthYear(d calendar.Date) string {
	if !d.Known() {
		return ""
	}
	return d.Format("2 January 2006")
}
