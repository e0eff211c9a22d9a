package figure

import "math"

// blockBox is b's rectangle: its strip by its time, cut to the picture.
func (l *groundLayout) blockBox(p GroundPlace, b GroundBlock, frame box) box {
	from, to := l.g.stay(b)
	x0, x1 := l.s.clamped(from), l.s.clamped(to)
	unit := l.unitPX(p)
	y0 := min(max(frame.y+b.From*unit, frame.y), frame.bottom())
	y1 := min(max(frame.y+b.To*unit, y0), frame.bottom())
	return box{x0, y0, max(x1-x0, 0), y1 - y0}
}

// slant is the boundary between growing and picking: x at the top and bottom
// edge, not cut to the block. Where the crop is never ready it lies past the
// right edge.
func (l *groundLayout) slant(b GroundBlock, r box) (top, bottom float64) {
	if !b.FirstP10.Known() {
		return r.right(), r.right()
	}
	top = l.s.at(b.FirstP10)
	if !b.FirstP90.Known() {
		// The latest year in ten never picks: the doubt runs on past the
		// end, so the line leaves the block by its right edge.
		return min(top, r.right()), r.right() + (r.right() - min(top, r.right()))
	}
	return top, max(l.s.at(b.FirstP90), top)
}

// block draws one planting. Its label comes later, above all blocks.
func (l *groundLayout) block(p GroundPlace, b GroundBlock, r box) {
	c, f := l.c, familyOf(b.Family)
	says := l.g.says(p, b)
	tag, at := "g", []string{"class", "f-block " + f.class(), "role", "graphics-symbol", "tabindex", "0", "aria-label", says}
	if b.Href != "" {
		tag, at = "a", []string{"class", "f-block " + f.class(), "href", b.Href, "aria-label", says}
	}
	at = append(at, "data-key", b.Key, "data-start", b.Start.String(), "data-clear", b.Clear.String())
	c.open(tag, at...)
	c.titled(says)
	top, bottom := l.slant(b, r)
	corners := []point{{r.x, r.y}, {r.right(), r.y}, {r.right(), r.bottom()}, {r.x, r.bottom()}}
	side := func(q point) float64 { // negative: left of the slant, still growing
		share := 0.0
		if r.h > 0 {
			share = (q.y - r.y) / r.h
		}
		return q.x - (top + share*(bottom-top))
	}
	c.polygon("f-pale", f, cut(corners, side))
	picking := cut(corners, func(q point) float64 { return -side(q) })
	c.polygon("f-full", f, picking)
	l.slantLine(f, r, top, bottom)
	if l.g.standsOn(b) {
		l.useHatch(f)
		w := min(11, r.w)
		c.leaf("rect", "x", num(r.right()-w), "y", num(r.y), "width", num(w), "height", num(r.h), "fill", "url(#"+l.hatchID(f)+")")
	}
	c.path("f-edge", f, edge(r, b.Start < l.g.From, l.g.standsOn(b)))
	c.close(tag)
}

func (l *groundLayout) slantLine(f family, r box, top, bottom float64) {
	a, b := point{top, r.y}, point{bottom, r.bottom()}
	inside := func(x float64) bool { return x > r.x && x < r.right() }
	if !inside(a.x) && !inside(b.x) {
		return
	}
	for _, x := range []float64{r.x, r.right()} {
		if (a.x-x)*(b.x-x) < 0 {
			q := point{x, a.y + (b.y-a.y)*(x-a.x)/(b.x-a.x)}
			if x == r.x {
				a = q
			} else {
				b = q
			}
		}
	}
	l.c.line("f-slant", f, a.x, a.y, b.x, b.y)
}

// edge outlines r; a side through which the planting runs on stays open.
func edge(r box, openLeft, openRight bool) string {
	tl, tr := num(r.x)+" "+num(r.y), num(r.right())+" "+num(r.y)
	bl, br := num(r.x)+" "+num(r.bottom()), num(r.right())+" "+num(r.bottom())
	switch {
	case openLeft && openRight:
		return "M" + tl + "L" + tr + "M" + bl + "L" + br
	case openLeft:
		return "M" + tl + "L" + tr + "L" + br + "L" + bl
	case openRight:
		return "M" + tr + "L" + tl + "L" + bl + "L" + br
	}
	return "M" + tl + "L" + tr + "L" + br + "L" + bl + "Z"
}

// cut keeps the part of a convex polygon where side is not positive
// (Sutherland and Hodgman 1974, one edge).
func cut(points []point, side func(point) float64) []point {
	var kept []point
	for i, q := range points {
		prev := points[(i+len(points)-1)%len(points)]
		sp, sq := side(prev), side(q)
		if sp <= 0 != (sq <= 0) {
			t := sp / (sp - sq)
			kept = append(kept, point{prev.x + t*(q.x-prev.x), prev.y + t*(q.y-prev.y)})
		}
		if sq <= 0 {
			kept = append(kept, q)
		}
	}
	if area(kept) < 1e-6 {
		return nil
	}
	return kept
}

// area of a polygon, by the shoelace formula.
func area(points []point) float64 {
	var twice float64
	for i, q := range points {
		p := points[(i+len(points)-1)%len(points)]
		twice += p.x*q.y - q.x*p.y
	}
	return math.Abs(twice) / 2
}

// leads draws the dotted line from the day a planting was sown elsewhere to
// the day it goes out, at a height that meets the fewest names, and broken
// where it would still run through one.
func (l *groundLayout) leads(p GroundPlace, rects []box, plan []groundLabel) {
	var names []box
	for _, g := range plan {
		names = append(names, g.boxes()...)
	}
	l.c.open("g", "aria-hidden", "true", "pointer-events", "none")
	defer l.c.close("g")
	for i, b := range p.Blocks {
		if !b.Raised.Known() || b.Raised >= b.Start || b.Start < l.g.From {
			continue
		}
		f := familyOf(b.Family)
		x0, x1 := l.s.clamped(b.Raised), rects[i].x
		if x1-x0 < 3 {
			continue
		}
		y := leadHeight(rects[i], x0, x1, names)
		l.c.open("g", "class", f.class())
		for _, piece := range broken(x0, x1, y, names) {
			l.c.line("f-leadhalo", f, piece[0], y, piece[1], y)
			l.c.line("f-lead", f, piece[0], y, piece[1], y)
		}
		if b.Raised >= l.g.From {
			l.c.circle("f-dot", f, x0, y, 2.6)
		}
		l.c.close("g")
	}
}

// leadClear is how far a lead keeps from a name, in px.
const leadClear = 2.5

func leadHeight(r box, x0, x1 float64, names []box) float64 {
	best, fewest := r.midY(), math.MaxInt
	for _, share := range []float64{0.5, 0.28, 0.72, 0.14, 0.86} {
		y, hits := r.y+share*r.h, 0
		for _, n := range names {
			if n.overlaps(box{x0 - 3, y - leadClear, x1 - x0 + 3, 2 * leadClear}) {
				hits++
			}
		}
		if hits < fewest {
			best, fewest = y, hits
		}
	}
	return best
}

// broken is x0 to x1 less the stretches in which names stand at height y.
func broken(x0, x1, y float64, names []box) [][2]float64 {
	pieces := [][2]float64{{x0, x1}}
	for _, n := range names {
		if y < n.y-leadClear || y > n.bottom()+leadClear {
			continue
		}
		var rest [][2]float64
		for _, p := range pieces {
			if left := min(p[1], n.x-leadClear); left > p[0] {
				rest = append(rest, [2]float64{p[0], left})
			}
			if right := max(p[0], n.right()+leadClear); right < p[1] {
				rest = append(rest, [2]float64{right, p[1]})
			}
		}
		pieces = rest
	}
	return pieces
}
