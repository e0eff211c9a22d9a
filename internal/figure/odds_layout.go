package figure

import (
	"fmt"
	"math"

	"haulm/internal/calendar"
)

// oddsLayout is the drawing of one OddsStrip under way.
type oddsLayout struct {
	o           OddsStrip
	c           *canvas
	id          string
	s           dayScale
	narrow      bool
	nameW       float64 // names, left
	lostX       float64 // crosses, right (wide only)
	tick        float64 // height of one tick with its gap
	lab, small  float64
	crossesLine int // crosses to a line
}

func newOddsLayout(o OddsStrip) *oddsLayout {
	l := &oddsLayout{o: o, c: &canvas{w: o.width()}, id: o.id("odds"), narrow: o.narrow(), lab: 13.5, small: 12, crossesLine: 12}
	x, w := 232.0, 0.0
	l.nameW, l.lostX = x-18, o.width()-158
	w = l.lostX - x - 18
	if l.narrow {
		l.lab, l.small, x, w, l.nameW = 13, 11, 2, o.width()-4, o.width()
		l.crossesLine = int((o.width() - 4) / crossPX)
	}
	from, to := o.window()
	l.s = dayScale{from: from, days: int(to - from), x: x, w: w}
	l.tick = l.tickHeight()
	return l
}

const (
	crossPX     = 10.0 // room of one cross
	crossLinePX = 10.0 // from one line of crosses to the next
	pilePX      = 34.0 // height of the tallest pile of ticks
)

// window is the months in which anything was ready.
func (o OddsStrip) window() (from, to calendar.Date) {
	from, to = calendar.None, calendar.None
	see := func(d calendar.Date) {
		if !d.Known() {
			return
		}
		if !from.Known() || d < from {
			from = d
		}
		if !to.Known() || d > to {
			to = d
		}
	}
	for _, r := range o.Rows {
		see(r.P10)
		see(r.P90)
		for _, y := range r.Years {
			see(r.moved(y))
		}
	}
	if !from.Known() {
		return 0, 0
	}
	y0, m0, _ := from.Civil()
	y1, m1, _ := to.Civil()
	return calendar.On(y0, m0, 1), calendar.On(y1, m1+1, 1)
}

// tallestPile is how many ticks of a row fall in one column at the most.
func (l *oddsLayout) tallestPile(r OddsRow) (tallest int) {
	heights := make(map[int]int)
	for _, y := range r.Years {
		if d := r.moved(y); d.Known() {
			k := l.column(d)
			heights[k]++
			tallest = max(tallest, heights[k])
		}
	}
	return tallest
}

// column is the tick column of d: ticks nearer than their own width share one.
func (l *oddsLayout) column(d calendar.Date) int {
	const tickPX = 2.4
	days := max(1, math.Round(tickPX/l.s.perDay()))
	return int(math.Floor(float64(d-l.s.from) / days))
}

func (l *oddsLayout) tickHeight() float64 {
	most := 1
	for _, r := range l.o.Rows {
		most = max(most, l.tallestPile(r))
	}
	return min(max(pilePX/float64(most), 4), 10)
}

// row draws one planting from y down.
func (l *oddsLayout) row(r OddsRow, y float64) float64 {
	c, f := l.c, familyOf(r.Family)
	c.open("g", "class", "f-odds "+f.class(), "role", "graphics-object", "aria-label", r.says())
	defer c.close("g")
	tallest := l.tallestPile(r)
	base := y + max(float64(tallest)*l.tick, 24) + 12
	lostAt := point{l.lostX, base - 6}
	if l.narrow {
		base += l.lab + 8
		l.nameAbove(r, y+l.lab+2)
		lostAt = point{2, base + 15}
	} else {
		base = max(base, y+float64(l.crossLines(r))*crossLinePX+18)
		lostAt.y = base - 6
		l.nameBeside(r, base)
	}
	if l.s.days > 0 {
		l.strip(r, f, base)
	}
	bottom := l.lost(r, lostAt)
	if l.narrow {
		return max(base+8, bottom) + 6
	}
	return max(base+8, bottom+4)
}

func (l *oddsLayout) nameBeside(r OddsRow, base float64) {
	c := l.c
	c.openLink(r.Href, r.says())
	c.text(shorten(r.Label, l.nameW, l.lab, false, 1), 0, base-12, atStart, face{class: "f-ink", size: l.lab})
	if r.Note != "" {
		c.text(shorten(r.Note, l.nameW, l.small, false, 1), 0, base+2, atStart, face{class: "f-muted", size: l.small, italic: true})
	}
	c.closeLink(r.Href)
}

func (l *oddsLayout) nameAbove(r OddsRow, y float64) {
	c := l.c
	c.openLink(r.Href, r.says())
	name := shorten(r.Label, l.nameW, l.lab, true, 1)
	c.text(name, 0, y, atStart, face{class: "f-ink", size: l.lab, bold: true})
	rest := l.nameW - textWidth(name, l.lab, true) - 8
	if note := shorten(r.Note, rest, l.small, false, 4); note != "" {
		c.text(note, l.nameW-rest, y, atStart, face{class: "f-muted", size: l.small, italic: true})
	}
	c.closeLink(r.Href)
}

// strip draws the box, the median and one tick a year, piled on the base line.
func (l *oddsLayout) strip(r OddsRow, f family, base float64) {
	c := l.c
	tallest := l.tallestPile(r)
	top := base - max(float64(tallest)*l.tick, l.tick) - 3
	if r.P10.Known() && r.P90.Known() {
		x0, x1 := l.s.at(r.P10), l.s.at(r.P90)+l.s.perDay()
		c.rect("f-pale", f, box{x0, top, x1 - x0, base - top})
		c.path("f-edge", f, "M"+num(x0)+" "+num(top)+"V"+num(base)+"M"+num(x1)+" "+num(top)+"V"+num(base))
	}
	for _, m := range l.s.months() {
		c.line("f-rule", f, m.x0, base, m.x0, base+4)
	}
	c.line("f-fine", f, l.s.x, base, l.s.x+l.s.w, base)
	done := make(map[int]int)
	for _, y := range r.Years {
		d := r.moved(y)
		if !d.Known() {
			continue
		}
		k := l.column(d)
		at := base - 0.6 - float64(done[k])*l.tick
		done[k]++
		c.open("g", "class", "f-year-tick", "role", "graphics-symbol", "aria-label", y.says(), "data-year", fmt.Sprint(y.Year), "data-ready", y.Ready.String())
		c.titled(y.says())
		x := l.s.at(d) + l.s.perDay()/2
		c.line("f-mark f-focus", f, x, at, x, at-l.tick+1)
		c.close("g")
	}
	if r.P50.Known() {
		x := l.s.at(r.P50) + l.s.perDay()/2
		c.path("f-median", f, "M"+num(x)+" "+num(top-3)+"V"+num(top)+"M"+num(x)+" "+num(base)+"V"+num(base+5))
	}
}

// lost draws a cross a year, with the count in words.
func (l *oddsLayout) lost(r OddsRow, at point) float64 {
	c, lost := l.c, r.lost()
	if len(lost) == 0 {
		if len(r.Years) > 0 {
			c.text("never lost", at.x, at.y, atStart, face{class: "f-muted", size: l.small, italic: true})
		}
		return at.y + 2
	}
	words := fmt.Sprintf("lost %d of %d", len(lost), len(r.Years))
	if len(lost) == len(r.Years) {
		words = fmt.Sprintf("lost in all %d years", len(lost))
	}
	wordsAt := point{at.x, at.y + 4}
	crossY, lines := at.y-13, l.crossLines(r)
	if l.narrow {
		crossY = at.y - 4
		wordsAt.y = at.y + float64(lines)*crossLinePX + 6
		if used := float64(len(lost)) * crossPX; lines == 1 && used+textWidth(words, l.small, false)+10 < l.o.width() {
			wordsAt = point{at.x + used + 6, at.y}
		}
	} else {
		crossY -= float64(lines-1) * crossLinePX
	}
	for i, y := range lost {
		x := at.x + float64(i%l.crossesLine)*crossPX + 4
		l.cross(y, x, crossY+float64(i/l.crossesLine)*crossLinePX)
	}
	c.text(words, wordsAt.x, wordsAt.y, atStart, face{class: "f-rust", size: l.small, italic: true})
	return wordsAt.y + 3
}

// crossLines is how many lines the crosses of a row fill.
func (l *oddsLayout) crossLines(r OddsRow) int {
	return (len(r.lost()) + l.crossesLine - 1) / l.crossesLine
}

func (l *oddsLayout) cross(y OddsYear, x, mid float64) {
	const arm = 3.2
	c := l.c
	c.open("g", "class", "f-lost-year", "tabindex", "0", "role", "graphics-symbol", "aria-label", y.says(), "data-year", fmt.Sprint(y.Year))
	c.titled(y.says())
	c.leaf("rect", "x", num(x-5), "y", num(mid-5), "width", "10", "height", "10", "fill", "none", "pointer-events", "all")
	c.path("f-lost", family{}, "M"+num(x-arm)+" "+num(mid-arm)+"L"+num(x+arm)+" "+num(mid+arm)+"M"+num(x-arm)+" "+num(mid+arm)+"L"+num(x+arm)+" "+num(mid-arm), "stroke-linecap", "round")
	c.close("g")
}
