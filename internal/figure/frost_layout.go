package figure

import (
	"fmt"
	"slices"

	"haulm/internal/calendar"
)

// frostLayout is the drawing of one FrostOdds under way.
type frostLayout struct {
	f          FrostOdds
	c          *canvas
	id         string
	s          dayScale
	narrow     bool
	plot       box
	spring     []calendar.Date // moved and in order
	autumn     []calendar.Date
	lab, small float64
}

func newFrostLayout(f FrostOdds) *frostLayout {
	l := &frostLayout{f: f, c: &canvas{w: f.width()}, id: f.id("frost"), narrow: f.narrow(), lab: 13, small: 12}
	left, height := 92.0, 190.0
	if l.narrow {
		left, height, l.lab, l.small = 26, 190, 12, 11
	}
	l.plot = box{left, 12, f.width() - left - 3, height}
	last := calendar.SeasonStart(f.From.Year()+1, f.From.Month() == 7)
	l.s = dayScale{from: f.From, days: int(last - f.From), x: l.plot.x, w: l.plot.w}
	for _, y := range f.Years {
		if y.LastSpring.Known() {
			l.spring = append(l.spring, f.moved(y, y.LastSpring))
		}
		if y.FirstAutumn.Known() {
			l.autumn = append(l.autumn, f.moved(y, y.FirstAutumn))
		}
	}
	slices.Sort(l.spring)
	slices.Sort(l.autumn)
	return l
}

func (l *frostLayout) y(share float64) float64 { return l.plot.bottom() - share*l.plot.h }

// grid rules the odds that are marked.
func (l *frostLayout) grid() {
	c := l.c
	c.rect("f-ground", family{}, l.plot)
	c.open("g", "aria-hidden", "true")
	for _, g := range []struct {
		share       float64
		words, tiny string
	}{{0.9, "9 years in 10", "9"}, {0.5, "5 years in 10", "5"}, {0.1, "1 year in 10", "1"}} {
		words := g.words
		if l.narrow {
			words = g.tiny
		}
		c.line("f-rule", family{}, l.plot.x, l.y(g.share), l.plot.right(), l.y(g.share))
		c.text(words, l.plot.x-6, l.y(g.share)+4, atEnd, face{class: "f-muted", size: l.small})
	}
	c.drawMonthRules(l.s, l.plot.bottom()-5, l.plot.bottom())
	c.close("g")
}

// curves draws both steps with their wash.
func (l *frostLayout) curves() {
	n := float64(len(l.f.Years))
	// Falling: the share of years whose last frost is still to come.
	fall := []point{{l.plot.x, l.y(float64(len(l.spring)) / n)}}
	for i, d := range l.spring {
		x := l.s.clamped(d.Add(1))
		fall = append(fall, point{x, fall[len(fall)-1].y}, point{x, l.y(float64(len(l.spring)-i-1) / n)})
	}
	l.wash(fall, l.plot.x)
	// Rising: the share of years whose first frost has come.
	var rise []point
	for i, d := range l.autumn {
		x := l.s.clamped(d)
		rise = append(rise, point{x, l.y(float64(i) / n)}, point{x, l.y(float64(i+1) / n)})
	}
	if len(rise) > 0 {
		rise = append(rise, point{l.plot.right(), rise[len(rise)-1].y})
		l.wash(rise, l.plot.right())
	}
	l.c.line("f-frame", family{}, l.plot.x, l.plot.bottom(), l.plot.right(), l.plot.bottom())
}

func (l *frostLayout) wash(steps []point, wall float64) {
	if len(steps) < 2 {
		return
	}
	under := slices.Clone(steps)
	if wall <= steps[0].x {
		under = append(under, point{steps[len(steps)-1].x, l.plot.bottom()}, point{wall, l.plot.bottom()})
	} else {
		under = append(under, point{wall, l.plot.bottom()}, point{steps[0].x, l.plot.bottom()})
	}
	l.c.polygon("f-frost3", family{}, under)
	l.c.path("f-frostline", family{}, trace(steps))
}

// frostMark is one marked date.
type frostMark struct {
	day   calendar.Date
	share float64 // odds at which it lies on its curve
	words string
}

func (l *frostLayout) springMarks() []frostMark {
	d := l.f.Spring
	return []frostMark{{d.P10, 0.9, dayMonth(d.P10, l.narrow)}, {d.P50, 0.5, dayMonth(d.P50, l.narrow)}, {d.P90, 0.1, dayMonth(d.P90, l.narrow)}}
}

func (l *frostLayout) autumnMarks() []frostMark {
	d := l.f.Autumn
	return []frostMark{{d.P10, 0.1, dayMonth(d.P10, l.narrow)}, {d.P50, 0.5, dayMonth(d.P50, l.narrow)}, {d.P90, 0.9, dayMonth(d.P90, l.narrow)}}
}

// marks sets a dot on the curve, a drop line to the axis and the date beside.
func (l *frostLayout) marks() {
	for _, side := range []struct {
		marks []frostMark
		right bool // dates right of their dots
	}{{l.springMarks(), true}, {l.autumnMarks(), false}} {
		for _, m := range side.marks {
			if !l.s.holds(m.day) {
				continue
			}
			x, y := l.s.at(m.day), l.y(m.share)
			curve := l.reach(m.share, side.right)
			l.c.line("f-drop", family{}, x, y, x, l.plot.bottom())
			l.c.open("g")
			l.c.titled(dayMonth(m.day, false))
			l.c.circle("f-slate", family{}, x, y, 3.4)
			l.c.close("g")
			fc := face{class: "f-ink", size: l.lab, halo: "ground", bold: m.share == 0.1}
			l.date(m.words, max(x, curve), min(x, curve), y, side.right, fc)
		}
	}
}

// date sets a date beside its dot, on the side away from the curve if it can;
// where every spot is taken the dot's own title says it.
func (l *frostLayout) date(words string, right, left, y float64, rightFirst bool, fc face) {
	sides := []bool{rightFirst, !rightFirst}
	for _, up := range []float64{5, 18, -14, 31} {
		for _, toRight := range sides {
			x, anchor := left-8, atEnd
			if toRight {
				x, anchor = right+8, atStart
			}
			b := textBox(words, x, y-up, anchor, fc)
			if l.plot.holds(b) && !overlapsAny(b, l.c.boxes()) {
				l.c.text(words, x, y-up, anchor, fc)
				return
			}
		}
	}
}

// reach is how far the curve comes towards the middle of the year at the given
// odds, so that a date set there stands clear of it.
func (l *frostLayout) reach(share float64, spring bool) float64 {
	n := float64(len(l.f.Years))
	if spring {
		k := min(max(len(l.spring)-int(share*n), 0), len(l.spring)-1)
		if k < 0 {
			return l.plot.x
		}
		return l.s.clamped(l.spring[k].Add(1))
	}
	k := min(max(int(share*n)-1, 0), len(l.autumn)-1)
	if k < 0 {
		return l.plot.right()
	}
	return l.s.clamped(l.autumn[k])
}

// between writes the safe span where there is room.
func (l *frostLayout) between() {
	from, to := l.f.Spring.P90, l.f.Autumn.P10
	if !from.Known() || !to.Known() || to <= from {
		return
	}
	mid := (l.s.at(from) + l.s.at(to)) / 2
	room := l.s.at(to) - l.s.at(from) - 16
	lines := wrap(fmt.Sprintf("%d days free of frost in at least 8 years of 10", int(to-from)), min(room, 190), l.lab, false)
	y := l.y(0.74)
	for i, line := range lines {
		at := y + float64(i)*(l.lab+4)
		b := textBox(line, mid, at, atMiddle, face{size: l.lab})
		if textWidth(line, l.lab, false) > room || overlapsAny(b.shrunk(-5), l.c.boxes()) {
			return
		}
	}
	for i, line := range lines {
		l.c.text(line, mid, y+float64(i)*(l.lab+4), atMiddle, face{class: "f-slate", size: l.lab, italic: true})
	}
}

// ticks sets one tick a year beneath, and the months.
func (l *frostLayout) ticks() float64 {
	c := l.c
	y := l.plot.bottom() + 8
	for _, year := range l.f.Years {
		for _, d := range []struct {
			day  calendar.Date
			name string
		}{{year.LastSpring, "last spring frost"}, {year.FirstAutumn, "first autumn frost"}} {
			moved := l.f.moved(year, d.day)
			if !l.s.holds(moved) {
				continue
			}
			says := fmt.Sprintf("%d: %s %s", year.Year, d.name, dayMonth(d.day, false))
			c.open("g", "class", "f-year-tick", "role", "graphics-symbol", "aria-label", says, "data-year", fmt.Sprint(year.Year))
			c.titled(says)
			x := l.s.at(moved)
			c.line("f-frosttick", family{}, x, y, x, y+12, "opacity", "0.75")
			c.close("g")
		}
	}
	y += 14
	c.open("g", "aria-hidden", "true")
	c.drawMonths(l.s, y+l.small+2, l.small)
	c.close("g")
	return y + l.small + 10
}
