package figure

import (
	"slices"

	"haulm/internal/unit"
)

// tableLayout is the drawing of one TableYear under way.
type tableLayout struct {
	t      TableYear
	c      *canvas
	id     string
	s      dayScale
	narrow bool
	plot   box
	most   float64     // portions at the top of the plot
	edges  [][]float64 // y of the band borders, bottom first, one row per border
	thick  [][]float64 // portions of each band at each curve point
	need   []float64   // y of the lines, nil where not given
	poor   []float64
	good   []float64
	lab    float64
	small  float64
}

func newTableLayout(t TableYear) *tableLayout {
	l := &tableLayout{t: t, c: &canvas{w: t.width()}, id: t.id("table"), narrow: t.narrow(), lab: 13, small: 12}
	left, right, height := 40.0, 152.0, 300.0
	if l.narrow {
		left, right, height, l.lab, l.small = 28, 3, 250, 12, 11
	}
	l.plot = box{left, 22, t.width() - left - right, height}
	n := t.weeks()
	l.s = dayScale{from: t.From, days: 7 * max(n, 1), x: l.plot.x, w: l.plot.w}
	for week := range n {
		l.most = max(l.most, t.total(week))
	}
	for _, line := range [][]float64{t.Need, t.Poor, t.Good} {
		for _, v := range line {
			l.most = max(l.most, finite(v))
		}
	}
	l.most = max(l.most*1.06, 1)
	l.stack(n)
	l.need, l.poor, l.good = l.lineY(t.Need, n), l.lineY(t.Poor, n), l.lineY(t.Good, n)
	return l
}

func (l *tableLayout) y(portions float64) float64 {
	return l.plot.bottom() - portions/l.most*l.plot.h
}

// x of curve point k.
func (l *tableLayout) x(k int) float64 {
	return l.plot.x + l.plot.w*float64(k)/float64(l.t.weeks()*perWeek)
}

// stack lays the bands on each other. Each band's own thickness is smoothed,
// so that borders can never cross.
func (l *tableLayout) stack(n int) {
	if n == 0 {
		return
	}
	sum := make([]float64, n*perWeek+1)
	l.edges = [][]float64{l.heights(sum)}
	for _, b := range l.t.Bands {
		curve := smooth(padded(b.Portions, n))
		for k := range sum {
			sum[k] += curve[k]
		}
		l.thick = append(l.thick, curve)
		l.edges = append(l.edges, l.heights(sum))
	}
}

func (l *tableLayout) heights(portions []float64) []float64 {
	ys := make([]float64, len(portions))
	for k, p := range portions {
		ys[k] = l.y(p)
	}
	return ys
}

func (l *tableLayout) lineY(weekly []float64, n int) []float64 {
	if len(weekly) == 0 {
		return nil
	}
	return l.heights(smooth(padded(weekly, n)))
}

// grid rules round numbers of portions and the months.
func (l *tableLayout) grid() {
	c := l.c
	c.rect("f-ground", family{}, l.plot)
	step := niceStep(l.most, 5)
	for v := 0.0; v <= l.most; v += step {
		c.line("f-rule", family{}, l.plot.x, l.y(v), l.plot.right(), l.y(v))
		c.text(unit.Number(v, 1), l.plot.x-6, l.y(v)+4, atEnd, face{class: "f-muted", size: l.small})
	}
	for _, m := range l.s.months() {
		if m.first > l.s.from {
			class, top := "f-rule", l.plot.bottom()-5
			if m.first.Month() == 1 {
				class, top = "f-year", l.plot.y
			}
			c.line(class, family{}, m.x0, top, m.x0, l.plot.bottom()+5)
		}
	}
}

// thinnest is the least thickness, in portions, that a band is drawn at.
const thinnest = 0.02

// runs are the stretches of curve points on which band i has any thickness.
func (l *tableLayout) runs(i int) [][2]int {
	var list [][2]int
	from := -1
	for k, v := range l.thick[i] {
		if v > thinnest && from < 0 {
			from = k
		}
		if v <= thinnest && from >= 0 {
			list = append(list, [2]int{max(from-1, 0), k})
			from = -1
		}
	}
	if from >= 0 {
		list = append(list, [2]int{max(from-1, 0), len(l.thick[i]) - 1})
	}
	return list
}

func (l *tableLayout) bands() {
	for i, b := range l.t.Bands {
		f := familyOf(b.Family)
		l.c.open("g", "class", f.class())
		l.c.titled(b.Label)
		for _, r := range l.runs(i) {
			var outline []point
			for k := r[0]; k <= r[1]; k++ {
				outline = append(outline, point{l.x(k), l.edges[i+1][k]})
			}
			for k := r[1]; k >= r[0]; k-- {
				outline = append(outline, point{l.x(k), l.edges[i][k]})
			}
			if !b.Stored {
				l.c.polygon("f-band", f, outline)
				continue
			}
			l.c.polygon("f-ground", f, outline)
			l.c.leaf("path", "d", trace(outline)+"Z", "fill", "url(#"+l.id+"-store)")
			l.c.path("f-fine", f, trace(outline[:r[1]-r[0]+1]))
		}
		l.c.close("g")
	}
}

// shortTicks hang from the need down to what there is.
func (l *tableLayout) shortTicks() {
	for _, week := range l.t.shortWeeks() {
		x := l.s.x + (float64(week)+0.5)*7*l.s.perDay()
		l.c.line("f-short", family{}, x, l.y(finite(l.t.Need[week])), x, l.y(l.t.total(week)))
	}
}

func (l *tableLayout) lines() {
	draw := func(class string, ys []float64) {
		if ys == nil {
			return
		}
		points := make([]point, len(ys))
		for k, y := range ys {
			points[k] = point{l.x(k), y}
		}
		l.c.path(class, family{}, trace(points))
	}
	draw("f-leadhalo", l.poor)
	draw("f-poor", l.poor)
	draw("f-leadhalo", l.good)
	draw("f-good", l.good)
	draw("f-needhalo", l.need)
	draw("f-need", l.need)
	l.c.line("f-frame", family{}, l.plot.x, l.plot.bottom(), l.plot.right(), l.plot.bottom())
}

// today rules the day, with its name at the top.
func (l *tableLayout) today() {
	if !l.t.begun() {
		return
	}
	x := l.s.at(l.t.Today)
	l.c.line("f-today", family{}, x, l.plot.y, x, l.plot.bottom())
	name := "today, " + dayMonth(l.t.Today, true)
	w := textWidth(name, l.small, false)
	l.c.text(name, min(max(x-w/2, l.plot.x), l.plot.right()-w), l.plot.y-6, atStart, face{class: "f-rust", size: l.small})
}

// lineName is a line with its class and its words.
type lineName struct {
	ys    []float64
	class string
	words []string // as set beside the line
	key   string   // as set beneath the figure
}

func (l *tableLayout) named() []lineName {
	list := []lineName{
		{l.good, "f-good", []string{"a good year in ten"}, "good year in ten"},
		{l.need, "f-need", []string{"what the table needs"}, "need"},
		{l.poor, "f-poor", []string{"a poor year in ten"}, "poor year in ten"},
	}
	return slices.DeleteFunc(list, func(n lineName) bool { return n.ys == nil })
}

// lineNames writes each line's name at its right-hand end.
func (l *tableLayout) lineNames() {
	if l.narrow {
		return
	}
	names := l.named()
	wishes, sizes := make([]float64, len(names)), make([]float64, len(names))
	for i, n := range names {
		wishes[i], sizes[i] = n.ys[len(n.ys)-1], l.small+2
	}
	at, _ := dodge(wishes, sizes, l.plot.y, l.plot.bottom(), 1)
	for i, n := range names {
		x := l.plot.right()
		l.c.line("f-fine", family{}, x+1, wishes[i], x+9, at[i])
		l.c.text(n.words[0], x+13, at[i]+4, atStart, face{class: "f-ink", size: l.small, italic: true})
	}
}

// foot writes months, years and, on a phone, the key of the lines.
func (l *tableLayout) foot() float64 {
	y := l.plot.bottom() + l.small + 6
	l.c.drawMonths(l.s, y, l.small)
	y += l.small + 4
	l.c.drawYears(l.s, y, l.small, nil)
	if !l.narrow {
		return y + 5
	}
	y += 8
	x, h := 0.0, l.small+6
	for _, n := range l.named() {
		w := 30 + textWidth(n.key, l.small, false)
		if x > 0 && x+w > l.t.width() {
			x, y = 0, y+h
		}
		l.c.line(n.class, family{}, x, y+h-10, x+24, y+h-10)
		l.c.text(n.key, x+30, y+h-6, atStart, face{class: "f-ink", size: l.small, italic: true})
		x += w + 14
	}
	if len(l.t.shortWeeks()) > 0 {
		words := "short"
		if w := 30 + textWidth(words, l.small, false); x+w > l.t.width() {
			x, y = 0, y+h
		}
		l.c.line("f-short", family{}, x+20, y+h-14, x+20, y+h-5)
		l.c.text(words, x+30, y+h-6, atStart, face{class: "f-rust", size: l.small, italic: true})
	}
	return y + h + 4
}
