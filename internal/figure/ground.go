package figure

import (
	"fmt"
	"math"

	"haulm/internal/calendar"
	"haulm/internal/unit"
)

// GroundThroughTime shows every place over the weeks of a plan: metres of bed
// downwards and weeks across, to one scale, so that a block's area is ground
// times time.
type GroundThroughTime struct {
	Frame
	From   calendar.Date // first day shown
	Weeks  int           // weeks shown, usually 52 to 80
	Today  calendar.Date // None leaves out the line
	Frost  []float64     // per week: share of years with frost in it, 0 to 1; nil where unknown
	Places []GroundPlace
}

// GroundPlace is one bed, or one set of like pots.
type GroundPlace struct {
	Name   string
	Note   string // a few words under the name: "8 h sun, fleece"
	Href   string
	Pots   bool    // Extent, From and To count pots, not metres
	Extent float64 // metres of bed, or number of pots
	Blocks []GroundBlock
}

// GroundBlock is one planting on its strip.
type GroundBlock struct {
	Key      string // data-key, for scripts
	Label    string // the crop's name, written on the block
	Short    string // a shorter name where Label does not fit; may be empty
	Detail   string // a sentence added to what the block says of itself
	Href     string
	Family   string  // botanical
	From, To float64 // strip, metres (or pots) from the top of the place

	Raised   calendar.Date // sown elsewhere on this day; None where sown in place
	Start    calendar.Date // in the ground from this day
	FirstP10 calendar.Date // first picking in the earliest year in ten; None: never within the picture
	FirstP50 calendar.Date
	FirstP90 calendar.Date // first picking in the latest year in ten
	Clear    calendar.Date // ground free again; None or past the end: it stands on
}

// Frost steps: share of years from which a week is washed, lightest first,
// with the words of the ribbon. A matter of drawing, not of science.
var frostSteps = []struct {
	share float64
	class string
	words []string
}{
	{0.05, "f-frost1", []string{"frost in a few years", "few years", "few"}},
	{0.20, "f-frost2", []string{"frost in some years", "some years", "some"}},
	{0.50, "f-frost3", []string{"frost in most years", "most years", "most"}},
}

// Heading is the figure's title.
func (g GroundThroughTime) Heading() string { return g.title("Ground through time") }

// Reading is how to read the figure.
func (g GroundThroughTime) Reading() string {
	return "Metres of bed downwards, weeks across, to scale. Pale: growing; full: picking; the slant between is the doubt, " +
		"earliest year in ten at its top, latest at its foot. Dotted lead: raised elsewhere. Blue wash: frost. " +
		"Hatched edge: stands on. Bare paper: idle ground."
}

// Says sums the figure up.
func (g GroundThroughTime) Says() string {
	n, used, whole := 0, 0.0, 0.0
	for _, p := range g.shown().Places {
		n += len(p.Blocks)
		if p.Pots {
			continue
		}
		whole += p.Extent * float64(g.days())
		for _, b := range p.Blocks {
			from, to := g.stay(b)
			used += (b.To - b.From) * float64(max(to-from, 0))
		}
	}
	say := fmt.Sprintf("%s in %s, from %s over %s.", unit.Counted(n, "planting", "plantings"),
		unit.Counted(len(g.Places), "place", "places"), dayMonthYear(g.From), unit.Counted(g.weeks(), "week", "weeks"))
	if whole > 0 {
		say += fmt.Sprintf(" The beds stand idle %.0f %% of the time.", 100*(1-min(used/whole, 1)))
	}
	return say
}

// shown is g with only those plantings that stand in the time drawn.
func (g GroundThroughTime) shown() GroundThroughTime {
	places := make([]GroundPlace, len(g.Places))
	for i, p := range g.Places {
		places[i] = p
		places[i].Blocks = nil
		for _, b := range p.Blocks {
			if from, to := g.stay(b); to > from {
				places[i].Blocks = append(places[i].Blocks, b)
			}
		}
	}
	g.Places = places
	return g
}

func (g GroundThroughTime) weeks() int { return max(g.Weeks, 1) }
func (g GroundThroughTime) days() int  { return 7 * g.weeks() }

// stay is the part of b's time in the ground that the picture shows.
func (g GroundThroughTime) stay(b GroundBlock) (from, to calendar.Date) {
	end := g.From.Add(g.days())
	to = b.Clear
	if !to.Known() || to > end {
		to = end
	}
	return max(b.Start, g.From), to
}

func (g GroundThroughTime) standsOn(b GroundBlock) bool {
	return !b.Clear.Known() || b.Clear > g.From.Add(g.days())
}

// Table lists the plantings place by place.
func (g GroundThroughTime) Table() (head []string, rows [][]string) {
	head = []string{"Place", "Crop", "Strip", "Raised from", "In the ground from", "First picking, earliest year in ten", "in half the years", "latest year in ten", "Ground free"}
	for _, p := range g.shown().Places {
		if len(p.Blocks) == 0 {
			rows = append(rows, []string{p.Name, "nothing planned", p.extent(), "", "", "", "", "", ""})
		}
		for _, b := range p.Blocks {
			free := dayMonthYear(b.Clear)
			if g.standsOn(b) {
				free = "stands on"
			}
			rows = append(rows, []string{p.Name, b.Label, p.strip(b), dayMonthYear(b.Raised), dayMonthYear(b.Start),
				dayMonthYear(b.FirstP10), dayMonthYear(b.FirstP50), dayMonthYear(b.FirstP90), free})
		}
	}
	return head, rows
}

func (p GroundPlace) extent() string {
	if p.Pots {
		return unit.Counted(int(math.Round(p.Extent)), "pot", "pots")
	}
	return unit.Number(p.Extent, 1) + " m"
}

func (p GroundPlace) strip(b GroundBlock) string {
	if p.Pots {
		return unit.Counted(int(math.Round(b.To-b.From)), "pot", "pots")
	}
	return unit.Number(b.From, 2) + "–" + unit.Number(b.To, 2) + " m"
}

// says is what one block says of itself: title, name for screen readers.
func (g GroundThroughTime) says(p GroundPlace, b GroundBlock) string {
	say := b.Label + ", " + p.Name + ", " + p.strip(b) + ". "
	if b.Raised.Known() {
		say += "Raised from " + dayMonth(b.Raised, false) + ", set out " + dayMonth(b.Start, false) + ". "
	} else {
		say += "In the ground from " + dayMonth(b.Start, false) + ". "
	}
	switch {
	case b.FirstP10.Known() && b.FirstP90.Known():
		say += "First picking between " + dayMonth(b.FirstP10, false) + " and " + dayMonth(b.FirstP90, false) + " in eight years of ten. "
	case b.FirstP10.Known():
		say += "First picking from " + dayMonth(b.FirstP10, false) + " in the earliest year in ten; in some years none. "
	default:
		say += "No picking in the time shown. "
	}
	if g.standsOn(b) {
		say += "Stands on."
	} else {
		say += "Ground free " + dayMonth(b.Clear, false) + "."
	}
	if b.Detail != "" {
		say += " " + b.Detail
	}
	return say
}

// SVG draws the figure.
func (g GroundThroughTime) SVG() string {
	c, s := g.draw()
	return c.finish(s)
}

func (g GroundThroughTime) draw() (*canvas, sheet) {
	g = g.shown()
	l := newGroundLayout(g)
	y := l.header()
	if len(g.Places) == 0 {
		l.c.text("No places yet: add a bed or a pot.", l.s.x, y+24, atStart, face{class: "f-muted", size: 14, italic: true})
		y += 40
	}
	for _, p := range g.Places {
		y = l.place(p, y)
	}
	if y > 460 && len(g.Places) > 0 {
		l.c.open("g", "aria-hidden", "true")
		l.c.drawMonths(l.s, y+6, l.small)
		l.c.close("g")
		y += 12
	}
	return l.c, sheet{
		id: l.id, kind: "ground", title: g.Heading(), desc: g.Says() + " " + g.Reading(),
		w: g.width(), h: y, interactive: true, defs: l.defs(),
	}
}
