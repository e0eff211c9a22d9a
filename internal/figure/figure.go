package figure

import (
	"fmt"
	"strings"
)

// Figure is one picture with everything that says the same in words.
type Figure interface {
	// Heading is the title shown above the picture.
	Heading() string
	// Reading is one sentence or two on how to read the picture.
	Reading() string
	// Says is what the picture shows, in words: its text alternative.
	Says() string
	// Table is the picture's data, for screen readers and for checking.
	Table() (head []string, rows [][]string)
	// SVG is the picture: a whole <svg> element, also valid as a file.
	SVG() string
}

// Frame is what all figures share.
type Frame struct {
	// ID is unique on the page; it prefixes every id inside the SVG. Two
	// pictures of one figure at different widths may share it.
	ID string
	// Title replaces the figure's usual heading.
	Title string
	// WidthPX is the width the picture is drawn for, in CSS pixels; 0 means
	// DefaultWidthPX. Below narrowPX the figure lays itself out for a phone.
	WidthPX int
}

// DefaultWidthPX is a full column on a desk; PhoneWidthPX is a 360 px screen
// less its margins.
const (
	DefaultWidthPX = 1120
	PhoneWidthPX   = 336

	narrowPX = 640
	leastPX  = 240
)

func (f Frame) width() float64 {
	if f.WidthPX <= 0 {
		return DefaultWidthPX
	}
	return float64(max(f.WidthPX, leastPX))
}

func (f Frame) narrow() bool { return f.width() < narrowPX }

func (f Frame) id(kind string) string {
	id := f.ID
	if id == "" {
		id = kind
	}
	return fmt.Sprintf("%s-%d", slug(id), int(f.width()))
}

func (f Frame) title(usual string) string {
	if f.Title != "" {
		return f.Title
	}
	return usual
}

// slug keeps letters, digits and hyphens, so that an id is valid in XML, CSS
// and a URL.
func slug(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9', r == '-':
			return r
		case r >= 'A' && r <= 'Z':
			return r + 'a' - 'A'
		}
		return '-'
	}, s)
	s = strings.Trim(s, "-")
	if s == "" || s[0] >= '0' && s[0] <= '9' {
		return "f-" + s
	}
	return s
}

// Block is f as an HTML <figure>: heading at the given level (2 to 6), how to
// read it, the picture, and the table folded away beneath. Where narrow is not
// nil it is shown instead of f on small screens.
func Block(f, narrow Figure, level int) string {
	return picture(f, narrow, level) + fmt.Sprintf("<details class=\"f-data\"><summary>%s, as a table</summary>\n%s</details>\n</figure>\n",
		escape(f.Heading()), TableHTML(f))
}

// Picture is Block without the table, for a page that shows the same figures
// in a table of its own.
func Picture(f, narrow Figure, level int) string { return picture(f, narrow, level) + "</figure>\n" }

func picture(f, narrow Figure, level int) string {
	level = min(max(level, 2), 6)
	var b strings.Builder
	fmt.Fprintf(&b, "<figure class=\"f-figure\">\n<figcaption><h%d>%s</h%d><p class=\"f-reading\">%s</p></figcaption>\n",
		level, escape(f.Heading()), level, escape(f.Reading()))
	if narrow == nil {
		fmt.Fprintf(&b, "<div class=\"f-frame-any\">%s</div>\n", f.SVG())
	} else {
		fmt.Fprintf(&b, "<div class=\"f-frame-wide\">%s</div>\n<div class=\"f-frame-narrow\">%s</div>\n", f.SVG(), narrow.SVG())
	}
	return b.String()
}

// TableHTML is the figure's table as an HTML <table> with a caption; the first
// column heads its row.
func TableHTML(f Figure) string {
	head, rows := f.Table()
	var b strings.Builder
	fmt.Fprintf(&b, "<div class=\"f-scroll\" tabindex=\"0\" role=\"region\" aria-label=\"%s\"><table>\n<caption>%s</caption>\n<thead><tr>",
		escape(f.Heading()), escape(f.Says()))
	for _, h := range head {
		fmt.Fprintf(&b, "<th scope=\"col\">%s</th>", escape(h))
	}
	b.WriteString("</tr></thead>\n<tbody>\n")
	for _, row := range rows {
		b.WriteString("<tr>")
		for i, cell := range row {
			if i == 0 {
				fmt.Fprintf(&b, "<th scope=\"row\">%s</th>", escape(cell))
				continue
			}
			fmt.Fprintf(&b, "<td>%s</td>", escape(cell))
		}
		b.WriteString("</tr>\n")
	}
	b.WriteString("</tbody></table></div>\n")
	return b.String()
}
