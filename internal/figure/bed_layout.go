package figure

import (
	"math"
	"slices"
)

// bedLayout is the drawing of one BedOnDay under way. On a wide screen the bed
// lies along x; on a phone it is turned a quarter clockwise and runs down.
type bedLayout struct {
	b          BedOnDay
	c          *canvas
	id         string
	down       bool // the bed runs down the page
	scale      float64
	whole      box // bed and paths
	lab, small float64
}

// Largest scale and longest drawing of a bed, in px per metre and px.
const (
	bedMostPX    = 200.0
	bedLongestPX = 1200.0
	bedHeadPX    = 46.0 // names above, or below, a bed that lies along
)

func newBedLayout(b BedOnDay) *bedLayout {
	l := &bedLayout{b: b, c: &canvas{w: b.width()}, id: b.id("bed"), down: b.narrow(), lab: 13, small: 12}
	across := max(b.WidthM, 0.01) + 2*b.PathM
	length := max(b.LengthM, 0.01)
	if l.down {
		l.lab, l.small = 12.5, 11
		l.scale = min((b.width()-138)/across, bedLongestPX/length, bedMostPX)
		l.whole = box{2, 12, across * l.scale, length * l.scale}
		return l
	}
	l.scale = min((b.width()-24)/length, 330/across, bedMostPX)
	l.whole = box{12, bedHeadPX, length * l.scale, across * l.scale}
	return l
}

// at turns metres along and across the bed into pixels.
func (l *bedLayout) at(s Station) point {
	along, across := s.AlongM*l.scale, (s.AcrossM+l.b.PathM)*l.scale
	if l.down {
		return point{l.whole.right() - across, l.whole.y + along}
	}
	return point{l.whole.x + along, l.whole.y + across}
}

func (l *bedLayout) bedBox() box {
	path := l.b.PathM * l.scale
	if l.down {
		return box{l.whole.x + path, l.whole.y, l.whole.w - 2*path, l.whole.h}
	}
	return box{l.whole.x, l.whole.y + path, l.whole.w, l.whole.h - 2*path}
}

func (l *bedLayout) clip() string {
	var c canvas
	c.open("clipPath", "id", l.id+"-clip")
	c.leaf("rect", "x", num(l.whole.x-8), "y", num(l.whole.y), "width", num(l.whole.w+16), "height", num(l.whole.h))
	c.b.WriteString("</clipPath>")
	return c.b.String()
}

func (l *bedLayout) ground() {
	c, bed := l.c, l.bedBox()
	w := l.whole
	if l.b.PathM > 0 {
		c.rect("f-path", family{}, w)
	}
	c.rect("f-ground", family{}, bed)
	l.metres()
	if l.b.PathM <= 0 {
		return
	}
	if l.down {
		c.path("f-month", family{}, "M"+num(w.x)+" "+num(w.y)+"V"+num(w.bottom())+"M"+num(w.right())+" "+num(w.y)+"V"+num(w.bottom()))
		return
	}
	c.path("f-month", family{}, "M"+num(w.x)+" "+num(w.y)+"H"+num(w.right())+"M"+num(w.x)+" "+num(w.bottom())+"H"+num(w.right()))
}

// metres ticks every metre along the edge of the bed.
func (l *bedLayout) metres() {
	bed := l.bedBox()
	for i := 0; float64(i) <= l.b.LengthM+1e-9; i++ {
		p := l.at(Station{float64(i), 0})
		if l.down {
			l.c.line("f-tick", family{}, bed.x-5, p.y, bed.x, p.y)
		} else {
			l.c.line("f-tick", family{}, p.x, bed.bottom(), p.x, bed.bottom()+5)
		}
		if l.b.PathM*l.scale < textWidth("10 m", l.small, false)+6 || i == 0 || float64(i) > l.b.LengthM-0.3 {
			continue
		}
		fc := face{class: "f-muted", size: l.small - 1}
		if l.down {
			l.c.text(num(float64(i))+" m", bed.x-6, p.y+4, atEnd, fc)
		} else {
			l.c.text(num(float64(i))+" m", p.x, bed.bottom()+17, atMiddle, fc)
		}
	}
}

// crop draws the edges of a strip and every plant on it.
func (l *bedLayout) crop(crop BedCrop) {
	c, f := l.c, familyOf(crop.Family)
	says := crop.says()
	tag, at := "g", []string{"class", "f-block " + f.class(), "role", "graphics-symbol", "tabindex", "0", "aria-label", says}
	if crop.Href != "" {
		tag, at = "a", []string{"class", "f-block " + f.class(), "href", crop.Href, "aria-label", says}
	}
	c.open(tag, at...)
	c.titled(says)
	a, b := l.at(Station{crop.FromM, 0}), l.at(Station{crop.ToM, l.b.WidthM})
	strip := box{min(a.x, b.x), min(a.y, b.y), math.Abs(b.x - a.x), math.Abs(b.y - a.y)}
	c.rect("f-edge", f, strip, "stroke-dasharray", "1 4", "pointer-events", "all")
	c.open("g", "clip-path", "url(#"+l.id+"-clip)")
	r := crop.SpreadM / 2 * l.scale
	for _, s := range crop.Plants {
		p := l.at(s)
		if crop.SpreadM <= 0 {
			c.circle("f-seed", f, p.x, p.y, 1.6)
			continue
		}
		c.circle("f-plant", f, p.x, p.y, max(r, 1.2))
		if r > 5 {
			c.circle("f-dot", f, p.x, p.y, 1.1)
		}
	}
	c.close("g")
	c.close(tag)
}

// bedName is where a crop's name stands and the stretch it speaks for.
type bedName struct {
	crop  BedCrop
	lines []string // name, then note
	mid   float64  // middle of the text along the bed, px
	below bool     // under the bed, not over it
	num   int      // a figure instead; the name is listed beneath
}

// planNames shares the names out along the bed: in one row, else alternately
// above and below, else as numbers.
func (l *bedLayout) planNames() []bedName {
	names := make([]bedName, len(l.b.Crops))
	order := slices.Clone(l.b.Crops)
	slices.SortStableFunc(order, func(a, b BedCrop) int {
		switch {
		case a.FromM+a.ToM < b.FromM+b.ToM:
			return -1
		case a.FromM+a.ToM > b.FromM+b.ToM:
			return 1
		}
		return 0
	})
	for i, crop := range order {
		names[i] = bedName{crop: crop, lines: l.nameLines(crop, true)}
	}
	if l.spread(names) {
		return names
	}
	for i := range names {
		names[i].lines = l.nameLines(names[i].crop, false)
	}
	if l.spread(names) {
		return names
	}
	if !l.down {
		for i := range names {
			names[i].below = i%2 == 1
			names[i].lines = l.nameLines(names[i].crop, true)
		}
		if l.spread(names) {
			return names
		}
	}
	for i := range names {
		names[i] = bedName{crop: names[i].crop, num: i + 1, lines: []string{num(float64(i + 1))}}
	}
	if !l.spread(names) {
		for i := range names {
			names[i].lines = nil // the list beneath says where each stands
		}
	}
	return names
}

func (l *bedLayout) nameLines(crop BedCrop, withNote bool) []string {
	room := 250.0
	if l.down {
		room = l.b.width() - l.whole.right() - 22
	}
	lines := wrapWithin(crop.Label, room, l.lab, false, 2)
	if len(lines) == 0 {
		lines = []string{"?"}
	}
	if withNote && crop.Note != "" {
		lines = append(lines, wrapWithin(crop.Note, room, l.small, false, 2)...)
	}
	if !l.down && len(lines) > 2 {
		lines = []string{shorten(crop.Label, room, l.lab, false, 1), shorten(crop.Note, room, l.small, false, 1)}
	}
	return lines
}

func sum(list []float64) float64 {
	var total float64
	for _, v := range list {
		total += v
	}
	return total
}

// spread moves the names apart along the bed; false when they do not fit.
func (l *bedLayout) spread(names []bedName) bool {
	for _, below := range []bool{false, true} {
		var at []int
		var wishes, sizes []float64
		for i, n := range names {
			if n.below != below {
				continue
			}
			a, b := l.at(Station{n.crop.FromM, 0}), l.at(Station{n.crop.ToM, 0})
			wish, size := (a.x+b.x)/2, widest(n.lines, l.lab, false)
			if l.down {
				wish, size = (a.y+b.y)/2, float64(len(n.lines))*(l.lab+3)
			}
			at, wishes, sizes = append(at, i), append(wishes, wish), append(sizes, size)
		}
		lo, hi := 0.0, l.b.width()
		if l.down {
			// The column of names may run on past a short bed.
			lo = l.whole.y - 10
			hi = max(l.whole.bottom()+10, lo+sum(sizes)+10*float64(len(sizes)))
		}
		moved, ok := dodge(wishes, sizes, lo, hi, 10)
		if !ok {
			return false
		}
		for j, i := range at {
			names[i].mid = moved[j]
		}
	}
	return true
}
