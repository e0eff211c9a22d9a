package figure

import (
	"html"
	"math"
	"strconv"
	"strings"
)

// canvas gathers the body of one SVG. It also remembers the box of every text
// it set, so that tests can hold the boxes against each other.
type canvas struct {
	b      strings.Builder
	w      float64
	labels []label
}

// label is one line of text and where it stands.
type label struct {
	text string
	box  box
	size float64
}

// attrs are attribute names and values in turn.
type attrs []string

func (c *canvas) write(name string, at attrs, closed bool) {
	c.b.WriteString("<" + name)
	for i := 0; i+1 < len(at); i += 2 {
		c.b.WriteString(" " + at[i] + `="` + escape(at[i+1]) + `"`)
	}
	if closed {
		c.b.WriteString("/>")
		return
	}
	c.b.WriteString(">")
}

func (c *canvas) open(name string, at ...string) { c.write(name, at, false) }
func (c *canvas) close(name string)              { c.b.WriteString("</" + name + ">\n") }
func (c *canvas) leaf(name string, at ...string) { c.write(name, at, true); c.b.WriteString("\n") }

// openLink begins a link, closeLink ends it; no href makes none.
func (c *canvas) openLink(href, label string) {
	switch {
	case href == "":
	case label == "": // what the link shows is its name
		c.open("a", "href", href)
	default:
		c.open("a", "href", href, "aria-label", label)
	}
}

func (c *canvas) closeLink(href string) {
	if href != "" {
		c.close("a")
	}
}

func (c *canvas) titled(text string) {
	c.b.WriteString("<title>" + escape(text) + "</title>")
}

// painted is a class with its light colours as plain attributes. The first of
// several classes names the paint.
func painted(class string, f family) attrs {
	first, _, _ := strings.Cut(class, " ")
	p := paintOf(first)
	at := attrs{"class", class}
	if p.fill != "" {
		at = append(at, "fill", lightColour(p.fill, f))
	}
	if p.stroke != "" {
		at = append(at, "stroke", lightColour(p.stroke, f), "stroke-width", num(p.width))
	}
	if p.dash != "" {
		at = append(at, "stroke-dasharray", p.dash)
	}
	if p.opacity > 0 {
		at = append(at, "opacity", num(p.opacity))
	}
	return at
}

func (c *canvas) rect(class string, f family, r box, more ...string) {
	at := append(painted(class, f), "x", num(r.x), "y", num(r.y), "width", num(max(r.w, 0)), "height", num(max(r.h, 0)))
	c.leaf("rect", append(at, more...)...)
}

func (c *canvas) line(class string, f family, x1, y1, x2, y2 float64, more ...string) {
	at := append(painted(class, f), "x1", num(x1), "y1", num(y1), "x2", num(x2), "y2", num(y2))
	c.leaf("line", append(at, more...)...)
}

func (c *canvas) path(class string, f family, d string, more ...string) {
	c.leaf("path", append(append(painted(class, f), "d", d), more...)...)
}

func (c *canvas) circle(class string, f family, x, y, r float64) {
	c.leaf("circle", append(painted(class, f), "cx", num(x), "cy", num(y), "r", num(r))...)
}

// polygon writes a closed path through the points; fewer than three draw
// nothing.
func (c *canvas) polygon(class string, f family, points []point) {
	if len(points) < 3 {
		return
	}
	c.path(class, f, trace(points)+"Z")
}

type point struct{ x, y float64 }

func trace(points []point) string {
	var d strings.Builder
	for i, p := range points {
		if i == 0 {
			d.WriteString("M")
		} else {
			d.WriteString("L")
		}
		d.WriteString(num(p.x) + " " + num(p.y))
	}
	return d.String()
}

// face is how a line of text is set.
type face struct {
	class  string // f-ink, f-muted, f-rust, f-slate
	size   float64
	bold   bool
	italic bool
	halo   string // paint behind the letters: "", "ground", "paper", "pale", "full"
	fam    family // whose tone a halo of pale or full takes
	plain  bool   // leave the box out of the record: text set over text on purpose
}

// anchors of a line of text.
const (
	atStart  = "start"
	atMiddle = "middle"
	atEnd    = "end"
)

// textBox is where s stands when set at x on baseline y. Its height runs from
// the ascenders to the descenders.
func textBox(s string, x, y float64, anchor string, fc face) box {
	w := textWidth(s, fc.size, fc.bold)
	switch anchor {
	case atMiddle:
		x -= w / 2
	case atEnd:
		x -= w
	}
	return box{x, y - ascent*fc.size, w, (ascent + descent) * fc.size}
}

// ascent and descent of ordinary letters, as shares of the type size.
const (
	ascent  = 0.78
	descent = 0.22
)

// text sets one line.
func (c *canvas) text(s string, x, y float64, anchor string, fc face) {
	at := attrs{"class", fc.class, "x", num(x), "y", num(y), "font-size", num(fc.size), "fill", tokenOf(paintOf(fc.class).fill).light}
	if anchor != atStart && anchor != "" {
		at = append(at, "text-anchor", anchor)
	}
	if fc.bold {
		at = append(at, "font-weight", "600")
	}
	if fc.italic {
		at = append(at, "font-style", "italic")
	}
	if fc.halo != "" {
		at[1] += " f-halo f-on-" + fc.halo
		at = append(at, "stroke", haloColour(fc), "stroke-width", "3", "stroke-linejoin", "round", "paint-order", "stroke")
	}
	c.write("text", at, false)
	c.b.WriteString(escape(s))
	c.b.WriteString("</text>\n")
	if !fc.plain && strings.TrimSpace(s) != "" {
		c.labels = append(c.labels, label{s, textBox(s, x, y, anchor, fc), fc.size})
	}
}

func haloColour(fc face) string {
	switch fc.halo {
	case "pale", "full":
		return lightColour(":"+fc.halo, fc.fam)
	}
	return tokenOf(fc.halo).light
}

// num writes a number with at most two decimals; what is not finite is 0.
func num(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "0"
	}
	v = math.Round(v*100) / 100
	if v == 0 {
		return "0"
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// escape makes s safe in XML text and attributes and drops letters that XML
// forbids.
func escape(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\r':
			return ' '
		case r < 0x20, r >= 0x7f && r < 0xa0, r == 0xFFFE, r == 0xFFFF, r >= 0xD800 && r <= 0xDFFF:
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, ""))
	return html.EscapeString(s)
}

// sheet is a finished SVG's outside.
type sheet struct {
	id          string
	kind        string // data-figure
	title, desc string
	w, h        float64
	interactive bool // has parts that take focus
	defs        string
}

// finish wraps the body. A figure whose parts take focus is a
// graphics-document; any other is one image.
func (c *canvas) finish(s sheet) string {
	role := "img"
	if s.interactive {
		role = "graphics-document document"
	}
	var out canvas
	out.open("svg", "xmlns", "http://www.w3.org/2000/svg", "class", "hf", "data-figure", s.kind, "role", role,
		"aria-labelledby", s.id+"-t "+s.id+"-d", "viewBox", "0 0 "+num(s.w)+" "+num(s.h),
		"width", num(s.w), "height", num(s.h), "font-family", serif)
	out.b.WriteString("\n<title id=\"" + s.id + "-t\">" + escape(s.title) + "</title>\n")
	out.b.WriteString("<desc id=\"" + s.id + "-d\">" + escape(s.desc) + "</desc>\n")
	if s.defs != "" {
		out.b.WriteString("<defs>" + s.defs + "</defs>\n")
	}
	out.b.WriteString(c.b.String())
	out.b.WriteString("</svg>\n")
	return out.b.String()
}

// hatch is a pattern of slanted lines in the named paint.
func hatch(id, class string, f family, gap float64) string {
	var c canvas
	c.open("pattern", "id", id, "class", f.class(), "width", num(gap), "height", num(gap), "patternUnits", "userSpaceOnUse", "patternTransform", "rotate(45)")
	c.line(class, f, 0, 0, 0, gap)
	c.b.WriteString("</pattern>")
	return c.b.String()
}
