package figure

import (
	"math"
	"slices"
	"strings"

	"haulm/internal/unit"
)

// groundLayout is the drawing of one GroundThroughTime under way.
type groundLayout struct {
	g       GroundThroughTime
	c       *canvas
	s       dayScale
	id      string
	narrow  bool
	perM    float64 // pixels per metre of bed
	perPot  float64 // pixels per pot
	lab     float64 // type size of crop names
	small   float64 // type size of everything else
	hatched []family
}

// gutterPX holds place names left of the beds on a wide screen.
const gutterPX = 128

func newGroundLayout(g GroundThroughTime) *groundLayout {
	l := &groundLayout{g: g, c: &canvas{w: g.width()}, id: g.id("ground"), narrow: g.narrow(), lab: 13, small: 12}
	left := float64(gutterPX)
	if l.narrow {
		left, l.lab, l.small = 1, 12, 11
	}
	l.s = dayScale{from: g.From, days: g.days(), x: left, w: g.width() - left - 2}
	l.perM, l.perPot = groundScale(g, l.narrow)
	return l
}

// groundScale chooses one scale for all beds: large enough for a name on the
// thinnest strip, small enough that the figure stays within a few screens.
func groundScale(g GroundThroughTime, narrow bool) (perM, perPot float64) {
	least, most, wanted, longest := 30.0, 62.0, 18.0, 1300.0
	if narrow {
		least, most, wanted = 40.0, 84.0, 28.0
	}
	thinnest, metres := math.Inf(1), 0.0
	for _, p := range g.Places {
		if p.Pots {
			continue
		}
		metres += p.Extent
		for _, b := range p.Blocks {
			if b.To > b.From {
				thinnest = min(thinnest, b.To-b.From)
			}
		}
	}
	perM = min(max(wanted/thinnest, least), most)
	if metres > 0 {
		perM = max(min(perM, longest/metres), 6)
	}
	perPot = 20.0
	if narrow {
		perPot = 26
	}
	return perM, perPot
}

func (l *groundLayout) unitPX(p GroundPlace) float64 {
	if p.Pots {
		return l.perPot
	}
	return l.perM
}

// header writes years, today, months and the ribbon of frost in words; it
// returns the y at which the places begin.
func (l *groundLayout) header() float64 {
	c := l.c
	c.open("g", "aria-hidden", "true")
	defer c.close("g")
	y := 12.0
	if l.s.holds(l.g.Today) {
		l.todayLabel(y)
	}
	c.drawYears(l.s, y, l.small, nil)
	y += 18
	c.drawMonths(l.s, y, l.small)
	y += 7
	if len(l.g.Frost) == 0 {
		return y
	}
	return l.ribbon(y) + 10
}

func (l *groundLayout) todayLabel(y float64) {
	fc := face{class: "f-rust", size: l.small, italic: true}
	name := dayMonth(l.g.Today, l.narrow)
	w := textWidth(name, fc.size, false)
	x := min(max(l.s.at(l.g.Today)-w/2, l.s.x), l.s.x+l.s.w-w)
	l.c.text(name, x, y, atStart, fc)
}

// frostRun is a stretch of weeks on one frost step; step -1 is free of frost.
type frostRun struct {
	from, to int // weeks, to excluded
	step     int
}

func (l *groundLayout) frostRuns() []frostRun {
	var runs []frostRun
	for week := range min(len(l.g.Frost), l.g.weeks()) {
		step := -1
		for i, s := range frostSteps {
			if l.g.Frost[week] >= s.share {
				step = i
			}
		}
		if n := len(runs); n > 0 && runs[n-1].step == step {
			runs[n-1].to = week + 1
			continue
		}
		runs = append(runs, frostRun{week, week + 1, step})
	}
	return runs
}

func (l *groundLayout) ribbon(y float64) float64 {
	const h = 17
	size := l.small - 1.5
	for _, r := range l.frostRuns() {
		b := l.weeksBox(r, y, h)
		words, class := []string{"free of frost", "no frost", "none"}, "f-ground"
		if r.step >= 0 {
			words, class = frostSteps[r.step].words, frostSteps[r.step].class
		}
		l.c.rect(class, family{}, b)
		l.c.line("f-rule", family{}, b.x, y, b.x, y+h)
		for _, w := range words {
			if textWidth(w, size, false)+6 <= b.w {
				l.c.text(w, b.midX(), y+12, atMiddle, face{class: "f-slate", size: size, italic: true})
				break
			}
		}
	}
	l.c.rect("f-rule", family{}, box{l.s.x, y, l.s.w, h})
	return y + h
}

func (l *groundLayout) weeksBox(r frostRun, y, h float64) box {
	x0 := l.s.x + float64(7*r.from)*l.s.perDay()
	return box{x0, y, float64(7*(r.to-r.from)) * l.s.perDay(), h}
}

// place draws one place from y down and returns where the next begins.
func (l *groundLayout) place(p GroundPlace, y float64) float64 {
	c := l.c
	c.open("g", "class", "f-place", "role", "graphics-object", "aria-label", p.Name+", "+p.extent()+", "+unit.Counted(len(p.Blocks), "planting", "plantings"))
	defer c.close("g")
	nameBottom := l.placeName(p, &y)
	frame := box{l.s.x, y, l.s.w, max(p.Extent, 0.1) * l.unitPX(p)}
	l.soil(p, frame)
	rects := make([]box, len(p.Blocks))
	for i, b := range p.Blocks {
		rects[i] = l.blockBox(p, b, frame)
	}
	for i, b := range p.Blocks {
		l.block(p, b, rects[i])
	}
	plan := l.planLabels(p, frame, rects)
	l.leads(p, rects, plan)
	l.rulerAndFrame(p, frame)
	l.today(frame, plan)
	notes := l.drawLabels(plan)
	if len(p.Blocks) == 0 {
		l.nothing(frame)
	}
	bottom := l.notes(notes, frame.bottom()+4)
	gap := 22.0
	if l.narrow {
		gap = 16
	}
	return max(bottom, nameBottom) + gap
}

// placeName writes the name beside the bed, or above it on a phone, where it
// moves y down. It returns the lowest y it used.
func (l *groundLayout) placeName(p GroundPlace, y *float64) float64 {
	note := p.extent()
	if p.Note != "" {
		note += ", " + p.Note
	}
	name := face{class: "f-ink", size: l.lab + 1, bold: true}
	l.c.openLink(p.Href, "")
	defer l.c.closeLink(p.Href)
	if l.narrow {
		room := l.s.w * 0.6
		title := shorten(p.Name, room, name.size, true, 1)
		l.c.text(title, l.s.x, *y+13, atStart, name)
		rest := l.s.w - textWidth(title, name.size, true) - 10
		l.c.text(shorten(note, rest, l.small, false, 1), l.s.x+l.s.w, *y+13, atEnd, face{class: "f-muted", size: l.small})
		*y += 19
		return *y
	}
	at := *y + 12
	for _, line := range wrapWithin(p.Name, gutterPX-16, name.size, true, 2) {
		l.c.text(line, 0, at, atStart, name)
		at += 16
	}
	for _, line := range wrapWithin(note, gutterPX-16, l.small, false, 3) {
		l.c.text(line, 0, at, atStart, face{class: "f-muted", size: l.small})
		at += 15
	}
	return at - 10
}

// soil lays bare ground, the wash of frost and the months.
func (l *groundLayout) soil(p GroundPlace, frame box) {
	l.c.rect("f-ground", family{}, frame)
	for _, r := range l.frostRuns() {
		if r.step >= 0 {
			l.c.rect(frostSteps[r.step].class, family{}, l.weeksBox(r, frame.y, frame.h))
		}
	}
	l.c.drawMonthRules(l.s, frame.y, frame.bottom())
	if p.Pots {
		for i := 1; float64(i) < p.Extent; i++ {
			y := frame.y + float64(i)*l.perPot
			l.c.line("f-rule", family{}, frame.x, y, frame.right(), y)
		}
	}
}

// rulerAndFrame ticks every metre (or pot) on the left edge.
func (l *groundLayout) rulerAndFrame(p GroundPlace, frame box) {
	if !l.narrow {
		for i := 0; float64(i) <= p.Extent+1e-9; i++ {
			y := frame.y + float64(i)*l.unitPX(p)
			l.c.line("f-tick", family{}, frame.x-5, y, frame.x, y)
		}
	}
	l.c.rect("f-frame", family{}, frame)
}

// today rules the day, broken where a name stands.
func (l *groundLayout) today(frame box, plan []groundLabel) {
	if !l.s.holds(l.g.Today) {
		return
	}
	x := l.s.at(l.g.Today)
	var names []box // turned on their side, for broken cuts along x
	for _, g := range plan {
		for _, b := range g.boxes() {
			names = append(names, box{b.y, b.x, b.h, b.w})
		}
	}
	for _, piece := range broken(frame.y-6, frame.bottom()+3, x, names) {
		l.c.line("f-today", family{}, x, piece[0], x, piece[1])
	}
}

func (l *groundLayout) nothing(frame box) {
	if frame.h < 14 {
		return
	}
	l.c.text("nothing planned", frame.midX(), frame.midY()+4, atMiddle, face{class: "f-muted", size: l.lab, italic: true})
}

// notes writes what found no room on the blocks, in lines beneath the place.
func (l *groundLayout) notes(notes []string, y float64) float64 {
	if len(notes) == 0 {
		return y - 4
	}
	for _, line := range wrap(strings.Join(notes, "  ·  "), l.s.w, l.small, false) {
		l.c.text(shorten(line, l.s.w, l.small, false, 1), l.s.x, y+l.small, atStart, face{class: "f-ink", size: l.small, italic: true})
		y += l.small + 4
	}
	return y
}

// defs are the hatches of families that stand past the end.
func (l *groundLayout) defs() string {
	var b strings.Builder
	for _, f := range l.hatched {
		b.WriteString(hatch(l.hatchID(f), "f-famhatch", f, 4))
	}
	return b.String()
}

func (l *groundLayout) hatchID(f family) string { return l.id + "-" + f.class() }

func (l *groundLayout) useHatch(f family) {
	if !slices.ContainsFunc(l.hatched, func(o family) bool { return o.name == f.name }) {
		l.hatched = append(l.hatched, f)
	}
}
