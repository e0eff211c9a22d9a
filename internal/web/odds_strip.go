package web

import (
	"fmt"
	"html/template"
	"strings"
)

// ticks is an odds strip small enough to stand in a table's cell: one tick a
// year on its day, the middling one firm. Days run from 0 to span.
type ticks struct {
	Family string
	Span   int
	Days   []int // first picking of each year that made it
	Lost   int
	Says   string // the same in words
}

// The strip's size in px.
const (
	ticksWide = 168
	ticksHigh = 20
)

// SVG draws the strip. Colour comes from the figures' style sheet.
func (t ticks) SVG() template.HTML {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg class="hf strip fam-%s" viewBox="0 0 %d %d" width="%d" height="%d" role="img" aria-label="%s">`,
		template.HTMLEscapeString(strings.ToLower(t.Family)), ticksWide, ticksHigh, ticksWide, ticksHigh, template.HTMLEscapeString(t.Says))
	fmt.Fprintf(&b, `<line class="f-fine" x1="0" x2="%d" y1="%d" y2="%d"/>`, ticksWide, ticksHigh-2, ticksHigh-2)
	piled := map[int]int{}
	for _, day := range t.Days {
		x := 1 + day*(ticksWide-2)/max(t.Span, 1)
		y := ticksHigh - 3 - 2*min(piled[x], 5)
		piled[x]++
		fmt.Fprintf(&b, `<line class="f-mark" x1="%d" x2="%d" y1="%d" y2="%d"/>`, x, x, y, y-5)
	}
	b.WriteString("</svg>")
	return template.HTML(b.String())
}
