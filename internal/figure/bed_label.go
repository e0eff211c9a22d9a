package figure

import (
	"fmt"
	"math"

	"haulm/internal/unit"
)

func (l *bedLayout) drawNames(names []bedName) {
	l.c.open("g", "aria-hidden", "true", "pointer-events", "none")
	defer l.c.close("g")
	for _, n := range names {
		l.c.open("g", "class", familyOf(n.crop.Family).class())
		if l.down {
			l.nameRight(n)
		} else {
			l.nameOver(n)
		}
		l.c.close("g")
	}
}

// nameOver sets a name above (or below) a bed that lies along, with a bracket
// over its stretch and a leader where the name had to move.
func (l *bedLayout) nameOver(n bedName) {
	f := familyOf(n.crop.Family)
	a, b := l.at(Station{n.crop.FromM, 0}), l.at(Station{n.crop.ToM, 0})
	edge, away := l.whole.y-5, -1.0
	if n.below {
		edge, away = l.whole.bottom()+5, 1
	}
	l.c.path("f-slant", f, fmt.Sprintf("M%s %sV%sH%sV%s", num(a.x+1.5), num(edge-away*3), num(edge), num(b.x-1.5), num(edge-away*3)))
	l.c.path("f-slant", f, "M"+num((a.x+b.x)/2)+" "+num(edge)+"L"+num(n.mid)+" "+num(edge+away*5))
	y := edge - 9 - float64(len(n.lines)-1)*(l.small+2)
	if n.below {
		y = edge + 8 + l.lab
	}
	for i, line := range n.lines {
		l.c.text(line, n.mid, y, atMiddle, l.nameFace(i))
		y += l.small + 2
	}
}

func (l *bedLayout) nameFace(i int) face {
	if i == 0 {
		return face{class: "f-ink", size: l.lab}
	}
	return face{class: "f-muted", size: l.small, italic: true}
}

// nameRight sets a name right of a bed that runs down.
func (l *bedLayout) nameRight(n bedName) {
	f := familyOf(n.crop.Family)
	a, b := l.at(Station{n.crop.FromM, 0}), l.at(Station{n.crop.ToM, 0})
	x := l.whole.right() + 5
	l.c.path("f-slant", f, fmt.Sprintf("M%s %sH%sV%sH%s", num(x-3), num(a.y+1.5), num(x), num(b.y-1.5), num(x-3)))
	l.c.path("f-slant", f, "M"+num(x)+" "+num((a.y+b.y)/2)+"L"+num(x+6)+" "+num(n.mid))
	named := len(wrapWithin(n.crop.Label, l.b.width()-l.whole.right()-22, l.lab, false, 2))
	y := n.mid - float64(len(n.lines))*(l.lab+3)/2 + l.lab - 0.5
	for i, line := range n.lines {
		fc := l.nameFace(0)
		if i >= named && n.num == 0 {
			fc = l.nameFace(1)
		}
		l.c.text(line, x+10, y, atStart, fc)
		y += l.lab + 3
	}
}

// bare says so of a bed with nothing in it, on the bed or beside a small one.
func (l *bedLayout) bare() {
	const words = "bare ground"
	bed, fc := l.bedBox(), face{class: "f-muted", size: l.lab, italic: true}
	if at := textBox(words, bed.midX(), bed.midY()+4, atMiddle, fc); bed.holds(at) && !overlapsAny(at, l.c.boxes()) {
		l.c.text(words, bed.midX(), bed.midY()+4, atMiddle, fc)
		return
	}
	l.c.text(words, l.whole.right()+8, bed.midY()+4, atStart, fc)
}

// foot draws the scale bar, the path's width, the north arrow and the list of
// numbered names.
func (l *bedLayout) foot(names []bedName) float64 {
	c := l.c
	c.open("g", "aria-hidden", "true")
	defer c.close("g")
	y := l.whole.bottom() + 22
	for _, n := range names {
		if n.below {
			y = l.whole.bottom() + bedHeadPX + 14
		}
		if l.down {
			y = max(y, n.mid+float64(len(n.lines))*(l.lab+3)/2+16)
		}
	}
	y = l.numberedNames(names, y)
	x := l.whole.x
	metre := 1.0
	if l.b.LengthM < 1 {
		metre = 0.5
	}
	w := metre * l.scale
	c.rect("f-barframe", family{}, box{x, y, w, 5})
	c.rect("f-muted", family{}, box{x, y, w / 2, 5})
	words := unit.Number(metre, 1) + " m"
	if l.b.PathM > 0 {
		words += fmt.Sprintf("; paths %.0f cm", 100*l.b.PathM)
	}
	c.text(words, x+w+8, y+7, atStart, face{class: "f-muted", size: l.small})
	arrow := point{max(l.whole.right()-24, x+w+8+textWidth(words, l.small, false)+arrowPX), y + arrowPX}
	if arrow.x > l.b.width()-arrowPX {
		arrow = point{l.b.width() - arrowPX, arrow.y + arrowPX/2}
	}
	l.north(arrow)
	return arrow.y + arrowPX
}

// arrowPX is the room the north arrow takes each way with its letter.
const arrowPX = 28.0

func (l *bedLayout) numberedNames(names []bedName, y float64) float64 {
	for _, n := range names {
		if n.num == 0 {
			continue
		}
		line := fmt.Sprintf("%d  %s, %s–%s m", n.num, n.crop.Label, unit.Number(n.crop.FromM, 2), unit.Number(n.crop.ToM, 2))
		if n.crop.Note != "" {
			line += ", " + n.crop.Note
		}
		l.c.text(shorten(line, l.b.width()-4, l.small, false, 1), 2, y, atStart, face{class: "f-ink", size: l.small})
		y += l.small + 5
	}
	return y
}

// north points the arrow where north lies on the page.
func (l *bedLayout) north(at point) {
	if math.IsNaN(l.b.BearingDeg) {
		return
	}
	const reach = 13.0
	sin, cos := math.Sincos(l.b.BearingDeg * math.Pi / 180)
	dir := point{cos, -sin}
	if l.down {
		dir = point{sin, cos}
	}
	tip := point{at.x + reach*dir.x, at.y + reach*dir.y}
	tail := point{at.x - reach*dir.x, at.y - reach*dir.y}
	l.c.line("f-tick", family{}, tail.x, tail.y, tip.x, tip.y)
	side := point{-dir.y, dir.x}
	l.c.polygon("f-ink", family{}, []point{tip,
		{tip.x - 8*dir.x + 3.4*side.x, tip.y - 8*dir.y + 3.4*side.y},
		{tip.x - 8*dir.x - 3.4*side.x, tip.y - 8*dir.y - 3.4*side.y}})
	l.c.text("N", tip.x+8*dir.x, tip.y+8*dir.y+4, atMiddle, face{class: "f-ink", size: l.small, bold: true})
}
