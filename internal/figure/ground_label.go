package figure

import (
	"cmp"
	"fmt"
	"slices"
)

// groundLabel is where one block's name goes.
type groundLabel struct {
	lines []textLine
	halo  string
	fam   family
	note  string // written beneath the place instead of, or beside a number in, the block
}

type textLine struct {
	text string
	x, y float64 // start of the baseline
	size float64
	soft bool // the second line, in lighter slope
}

func (t textLine) box() box {
	return textBox(t.text, t.x, t.y, atStart, face{size: t.size})
}

func (g groundLabel) boxes() []box {
	list := make([]box, len(g.lines))
	for i, t := range g.lines {
		list[i] = t.box()
	}
	return list
}

// wording is one way to write a name: its lines and their sizes.
type wording struct {
	lines []string
	size  float64
	sub   string // a smaller line beneath
}

func (w wording) width() float64 {
	return max(widest(w.lines, w.size, false), textWidth(w.sub, w.subSize(), false))
}

func (w wording) subSize() float64 { return w.size - 2 }

func (w wording) height() float64 {
	h := float64(len(w.lines)) * w.size * leading
	if w.sub != "" {
		h += w.subSize() * leading
	}
	return h
}

const leading = 1.12

// set places the wording with its left edge at x and its middle at midY.
func (w wording) set(x, midY float64) []textLine {
	var set []textLine
	y := midY - w.height()/2
	for _, line := range w.lines {
		set = append(set, textLine{text: line, x: x, y: y + w.size*(leading-1)/2 + w.size*ascent, size: w.size})
		y += w.size * leading
	}
	if w.sub != "" {
		size := w.subSize()
		set = append(set, textLine{text: w.sub, x: x, y: y + size*(leading-1)/2 + size*ascent, size: size, soft: true})
	}
	return set
}

// planLabels finds a place for every name of p: on the block, else beside it
// on free ground, else shortened, else as a numbered note beneath the place.
// Large blocks choose first.
func (l *groundLayout) planLabels(p GroundPlace, frame box, rects []box) []groundLabel {
	plan := make([]groundLabel, len(p.Blocks))
	order := make([]int, len(p.Blocks))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(rects[b].w*rects[b].h, rects[a].w*rects[a].h) })
	var taken []box
	var without []int
	for _, i := range order {
		b, r := p.Blocks[i], rects[i]
		lines, halo, ok := l.onBlock(b, r, taken)
		if !ok {
			lines, halo, ok = l.besideBlock(b, i, rects, frame, taken)
		}
		if !ok {
			lines, ok = l.shortened(b, r, taken)
		}
		plan[i] = groundLabel{lines: lines, halo: halo, fam: familyOf(b.Family)}
		if !ok {
			without = append(without, i)
		}
		taken = append(taken, plan[i].boxes()...)
	}
	slices.Sort(without)
	l.planNotes(plan, without, p, rects, taken)
	return plan
}

// planNotes numbers the blocks that found no room for their name, a number a
// name.
func (l *groundLayout) planNotes(plan []groundLabel, without []int, p GroundPlace, rects, taken []box) {
	numbers := make(map[string]int)
	for _, i := range without {
		name := p.Blocks[i].Label
		n, before := numbers[name]
		if !before {
			n = len(numbers) + 1
		}
		if l.numbered(&plan[i], p, p.Blocks[i], rects[i], n, taken) {
			numbers[name] = n
		}
		if before && len(plan[i].lines) > 0 {
			plan[i].note = ""
		}
		taken = append(taken, plan[i].boxes()...)
	}
}

// wordings are the ways to write b's name on r, the fullest first.
func (l *groundLayout) wordings(b GroundBlock, r box) []wording {
	const pad = 10
	small := l.lab - 1.5
	list := []wording{}
	if b.FirstP50.Known() && r.h >= 34 {
		list = append(list, wording{[]string{b.Label}, l.lab, "from " + dayMonth(b.FirstP50, true)})
	}
	list = append(list, wording{[]string{b.Label}, l.lab, ""}, wording{wrap(b.Label, r.w-pad, l.lab, false), l.lab, ""},
		wording{[]string{b.Label}, small, ""}, wording{wrap(b.Label, r.w-pad, small, false), small, ""})
	if b.Short != "" {
		list = append(list, wording{[]string{b.Short}, l.lab, ""}, wording{[]string{b.Short}, small, ""})
	}
	return list
}

// onBlock sets the name inside r: on the pale part if it can, else on the full
// part, else across both.
func (l *groundLayout) onBlock(b GroundBlock, r box, taken []box) (lines []textLine, halo string, ok bool) {
	top, bottom := l.slant(b, r)
	pale := box{r.x, r.y, min(top, r.right()) - r.x, r.h}
	full := box{max(bottom, r.x), r.y, r.right() - max(bottom, r.x), r.h}
	for _, w := range l.wordings(b, r) {
		for _, part := range []struct {
			box
			halo string
		}{{pale, "pale"}, {full, "full"}, {r, ""}} {
			for _, pad := range []float64{5, 3} {
				lines := w.set(part.x+pad, r.midY())
				if l.fits(lines, part.box, taken) {
					return lines, l.haloAt(lines, part.halo), true
				}
			}
		}
	}
	return nil, "", false
}

// haloAt gives a halo only to names that today's line runs through.
func (l *groundLayout) haloAt(lines []textLine, halo string) string {
	x := l.s.at(l.g.Today)
	for _, t := range lines {
		if l.s.holds(l.g.Today) && t.box().x < x && x < t.box().right() {
			return halo
		}
	}
	return ""
}

func (l *groundLayout) fits(lines []textLine, in box, taken []box) bool {
	for _, t := range lines {
		b := t.box()
		b.w += 2
		if !in.holds(b) || overlapsAny(b, taken) {
			return false
		}
	}
	return len(lines) > 0
}

// besideBlock sets the name on free ground right or left of r.
func (l *groundLayout) besideBlock(b GroundBlock, i int, rects []box, frame box, taken []box) (lines []textLine, halo string, ok bool) {
	r := rects[i]
	others := slices.Clone(taken)
	for j, o := range rects {
		if j != i {
			others = append(others, o)
		}
	}
	for _, size := range []float64{l.lab, l.lab - 1.5} {
		for _, name := range []string{b.Label, b.Short} {
			if name == "" {
				continue
			}
			w := wording{[]string{name}, size, ""}
			for _, x := range []float64{r.right() + 4, r.x - w.width() - 5} {
				lines := w.set(x, r.midY())
				if l.fits(lines, frame, others) && !l.crossesToday(lines) {
					return lines, "ground", true
				}
			}
		}
	}
	return nil, "", false
}

func (l *groundLayout) crossesToday(lines []textLine) bool {
	return l.haloAt(lines, "x") != ""
}

// shortened cuts the name to the block, keeping enough letters to know it by.
func (l *groundLayout) shortened(b GroundBlock, r box, taken []box) (lines []textLine, ok bool) {
	const leastLetters = 4
	size := l.lab - 1.5
	name := shorten(b.Label, r.w-8, size, false, leastLetters)
	if name == "" {
		return nil, false
	}
	w := wording{[]string{name}, size, ""}
	lines = w.set(r.x+3, r.midY())
	return lines, l.fits(lines, r, taken)
}

// numbered writes a figure on the block and the name beneath the place, and
// reports true; where not even a figure fits, the note says where the strip
// lies.
func (l *groundLayout) numbered(g *groundLabel, p GroundPlace, b GroundBlock, r box, n int, taken []box) bool {
	w := wording{[]string{fmt.Sprint(n)}, 10.5, ""}
	lines := w.set(r.midX()-w.width()/2, r.midY())
	if l.fits(lines, r, taken) {
		g.lines, g.note = lines, fmt.Sprintf("%d %s", n, b.Label)
		return true
	}
	g.lines, g.note = nil, fmt.Sprintf("also %s, %s, from %s", b.Label, p.strip(b), dayMonth(b.Start, true))
	return false
}

// drawLabels writes the names over everything else and returns the notes.
func (l *groundLayout) drawLabels(plan []groundLabel) (notes []string) {
	l.c.open("g", "aria-hidden", "true", "pointer-events", "none")
	defer l.c.close("g")
	for _, g := range plan {
		l.c.open("g", "class", g.fam.class())
		for _, t := range g.lines {
			l.c.text(t.text, t.x, t.y, atStart, face{class: "f-ink", size: t.size, italic: t.soft, halo: g.halo, fam: g.fam})
		}
		l.c.close("g")
		if g.note != "" {
			notes = append(notes, g.note)
		}
	}
	return notes
}
