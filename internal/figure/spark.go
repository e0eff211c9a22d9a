package figure

import "haulm/internal/unit"

// Spark is a line of values small enough to stand in a sentence. It is no
// Figure: it needs no words on how to read it, and no table.
type Spark struct {
	Frame
	Label    string // what it shows, in words
	Values   []float64
	HeightPX int // 0 = 22
}

// sparkPX is the usual width of a spark.
const sparkPX = 120

// Heading is the figure's title.
func (s Spark) Heading() string { return s.title(s.Label) }

// Says sums the figure up.
func (s Spark) Says() string {
	if len(s.Values) == 0 {
		return s.Label + ": no values."
	}
	return s.Label + ": from " + unit.Number(s.Values[0], 2) + " to " + unit.Number(s.Values[len(s.Values)-1], 2) + "."
}

// SVG draws the figure.
func (s Spark) SVG() string {
	w, h := float64(sparkPX), 22.0
	if s.WidthPX > 0 {
		w = float64(s.WidthPX)
	}
	if s.HeightPX > 0 {
		h = float64(s.HeightPX)
	}
	c := &canvas{w: w}
	sh := sheet{id: slug(s.ID + "-spark"), kind: "spark", title: s.Heading(), desc: s.Says(), w: w, h: h}
	if len(s.Values) == 0 {
		return c.finish(sh)
	}
	least, most := s.Values[0], s.Values[0]
	for _, v := range s.Values {
		least, most = min(least, v), max(most, v)
	}
	span := most - least
	if span <= 0 {
		span = 1
	}
	points := make([]point, len(s.Values))
	for i, v := range s.Values {
		points[i] = point{3 + (w-6)*float64(i)/float64(max(len(s.Values)-1, 1)), h - 3 - (h-6)*(v-least)/span}
	}
	c.path("f-tick", family{}, trace(points))
	last := points[len(points)-1]
	c.circle("f-ink", family{}, last.x, last.y, 2.2)
	return c.finish(sh)
}
