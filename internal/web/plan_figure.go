package web

import (
	"html/template"
	"strconv"
	"sync"

	"haulm/internal/calendar"
	"haulm/internal/cropping"
	"haulm/internal/figure"
	"haulm/internal/garden"
	"haulm/internal/unit"
)

const noDay = calendar.None

// pictures keeps the drawings of the latest plan: they change only with it.
type pictures struct {
	mu    sync.Mutex
	of    *cropping.Year
	drawn map[string]template.HTML
}

// keep draws a picture of a plan once.
func (k *pictures) keep(y *cropping.Year, name string, draw func() template.HTML) template.HTML {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.of != y {
		k.of, k.drawn = y, map[string]template.HTML{}
	}
	picture, ok := k.drawn[name]
	if !ok {
		picture = draw()
		k.drawn[name] = picture
	}
	return picture
}

// block is a figure as it stands on a page.
func block(wide, narrow figure.Figure, level int) template.HTML {
	return template.HTML(figure.Block(wide, narrow, level)) // the figures escape what they write
}

// plantingHref is a planting's own page.
func plantingHref(no int) string { return "/plan/planting/" + strconv.Itoa(no+1) }

// groundFigures draw a plan's ground through time, for a desk and for a phone.
func (p *Pages) groundFigures(y *cropping.Year) (wide, narrow figure.GroundThroughTime) {
	g := figure.GroundThroughTime{Frame: figure.Frame{ID: "ground"}, From: y.From, Weeks: y.Weeks, Today: p.desk.Today()}
	if end := y.From.Add(7 * y.Weeks); g.Today < y.From || g.Today >= end {
		g.Today = noDay
	}
	if w, err := p.desk.Weather(); err == nil {
		g.Frost = w.FrostWeeks(y.From, y.Weeks)
	}
	if own, err := p.desk.Garden(); err == nil {
		for _, place := range own.Places {
			g.Places = append(g.Places, groundPlace(y, place, units(own)))
		}
	}
	return bothWidths(g)
}

func bothWidths(g figure.GroundThroughTime) (wide, narrow figure.GroundThroughTime) {
	narrow = g
	narrow.WidthPX = figure.PhoneWidthPX
	return g, narrow
}

func groundPlace(y *cropping.Year, place garden.Place, u unit.System) figure.GroundPlace {
	out := figure.GroundPlace{Name: place.Name, Note: groundNote(place, u), Href: placeHref(place.Name, noDay), Extent: place.LengthM}
	scale := 0.01
	if place.Kind == garden.Pots {
		out.Pots, out.Extent, scale = true, float64(place.Pots), 1.0/garden.PotPitchCM
	}
	for i := range y.Plantings {
		if y.Plantings[i].Place == place.Name {
			out.Blocks = append(out.Blocks, groundBlock(&y.Plantings[i], i, scale))
		}
	}
	return out
}

func groundBlock(p *cropping.Planting, no int, scale float64) figure.GroundBlock {
	b := figure.GroundBlock{
		Key: strconv.Itoa(no + 1), Label: p.Crop.Name, Href: plantingHref(no), Family: p.Crop.Family,
		From: float64(p.FromCM) * scale, To: float64(p.ToCM) * scale,
		Raised: noDay, Start: p.OnGround, FirstP10: p.FirstPick.P10, FirstP50: p.FirstPick.P50, FirstP90: p.FirstPick.P90,
		Clear: p.Clear,
	}
	if p.SetOut.Known() && !p.Stands {
		b.Raised = p.Start
	}
	if p.Beyond {
		b.Clear = noDay
	}
	return b
}

// oddsFigure is one planting's odds strip, year by year.
func oddsFigure(p *cropping.Planting) figure.OddsStrip {
	row := figure.OddsRow{
		Label: p.Crop.Name, Note: p.Route.Name + " " + dayMonth(p.Start), Family: p.Crop.Family, Start: p.Start,
		P10: p.FirstPick.P10, P50: p.FirstPick.P50, P90: p.FirstPick.P90,
	}
	for _, c := range p.Courses {
		row.Years = append(row.Years, oddsYear(c))
	}
	return figure.OddsStrip{Frame: figure.Frame{ID: "odds"}, Rows: []figure.OddsRow{row}}
}
