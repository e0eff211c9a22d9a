package figure

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/unit"
)

// BedOnDay is a bed seen from above on one day: every plant a circle of its
// spread, rows true, to scale.
type BedOnDay struct {
	Frame
	Place   string
	Day     calendar.Date
	LengthM float64
	WidthM  float64
	PathM   float64 // walkway along each long side; 0 draws none
	// BearingDeg is the compass bearing in which the bed runs, from its start
	// to its far end: 0 north, 90 east. NaN where it is not known: no arrow then.
	BearingDeg float64
	Crops      []BedCrop
}

// BedCrop is one planting on its strip of the bed.
type BedCrop struct {
	Label   string
	Note    string // what to do, or how large: "thin to 10 cm"
	Href    string
	Family  string
	FromM   float64 // along the bed
	ToM     float64
	SpreadM float64 // across one plant on this day; 0: sown, not yet up
	Plants  []Station
	Clumped string // how many, where a station is a clump: "12 clumps of 5 plants"
}

// Station is where one plant stands, in metres from the start of the bed and
// from its left-hand edge looking along it.
type Station struct{ AlongM, AcrossM float64 }

// Heading is the figure's title.
func (b BedOnDay) Heading() string {
	name := b.Place
	if name == "" {
		name = "The bed"
	}
	if !b.Day.Known() {
		return b.title(name)
	}
	return b.title(name + " on " + dayMonth(b.Day, false))
}

// Reading is how to read the figure.
func (b BedOnDay) Reading() string {
	each := "one plant"
	if slices.ContainsFunc(b.Crops, func(crop BedCrop) bool { return crop.Clumped != "" }) {
		each = "one plant, or one clump of several,"
	}
	return "The bed from above, to scale. Each circle is " + each + " at its spread on the day; small rings are sown and not yet up."
}

// Says sums the figure up.
func (b BedOnDay) Says() string {
	size := fmt.Sprintf("%s by %s m", unit.Number(b.LengthM, 2), unit.Number(b.WidthM, 2))
	if len(b.Crops) == 0 {
		return size + ", bare ground."
	}
	var names []string
	for _, crop := range b.Crops {
		names = append(names, crop.says())
	}
	return size + ": " + strings.Join(names, "; ") + "."
}

func (crop BedCrop) says() string {
	say := fmt.Sprintf("%s at %s–%s m, %s", crop.Label, unit.Number(crop.FromM, 2), unit.Number(crop.ToM, 2), cmp.Or(crop.Clumped, unit.Counted(len(crop.Plants), "plant", "plants")))
	if crop.SpreadM > 0 {
		return say + fmt.Sprintf(", %.0f cm across", 100*crop.SpreadM)
	}
	return say + ", not yet up"
}

// Table lists the plantings of the day.
func (b BedOnDay) Table() (head []string, rows [][]string) {
	head = []string{"Crop", "From (m)", "To (m)", "Plants", "Spread (cm)", "To do"}
	for _, crop := range b.Crops {
		spread := "not yet up"
		if crop.SpreadM > 0 {
			spread = fmt.Sprintf("%.0f", 100*crop.SpreadM)
		}
		rows = append(rows, []string{crop.Label, unit.Number(crop.FromM, 2), unit.Number(crop.ToM, 2), cmp.Or(crop.Clumped, fmt.Sprint(len(crop.Plants))), spread, crop.Note})
	}
	return head, rows
}

// SVG draws the figure.
func (b BedOnDay) SVG() string {
	c, s := b.draw()
	return c.finish(s)
}

func (b BedOnDay) draw() (*canvas, sheet) {
	l := newBedLayout(b)
	s := sheet{id: l.id, kind: "bed", title: b.Heading(), desc: b.Says() + " " + b.Reading(), w: b.width(), interactive: true}
	if b.LengthM <= 0 || b.WidthM <= 0 {
		l.c.text("This bed has no size yet.", 2, 24, atStart, face{class: "f-muted", size: 14, italic: true})
		s.h = 40
		return l.c, s
	}
	names := l.planNames()
	l.ground()
	for _, crop := range b.Crops {
		l.crop(crop)
	}
	l.c.rect("f-frame", family{}, l.bedBox())
	l.drawNames(names)
	if len(b.Crops) == 0 {
		l.bare()
	}
	s.h = l.foot(names)
	s.defs = l.clip()
	return l.c, s
}
