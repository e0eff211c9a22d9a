package web

import (
	"fmt"
	"html/template"
	"net/http"
	"strconv"

	"haulm/internal/cropping"
	"haulm/internal/garden"
	"haulm/internal/unit"
)

// plantingPage is one planting with everything that is known of it.
type plantingPage struct {
	Crop, CropHref, Kind   string
	Route                  string
	Place, PlaceHref, Note string
	Strip                  string
	Steps                  []step
	Reasons                []string
	Cautions               []caution
	Odds, Bed              template.HTML
	Facts                  []factGroup
	Before, After          *link
	Foretold               foretold
	Lock                   lockState
}

// step is one thing to do, with its day and what it takes.
type step struct {
	Day, Do, Why string
}

type link struct{ Href, Name string }

// plantingShow is one planting's page.
func (p *Pages) plantingShow(w http.ResponseWriter, r *http.Request) error {
	planned, err := p.desk.Planned()
	if err != nil {
		return err
	}
	g, err := p.desk.Garden()
	if err != nil {
		return err
	}
	y := planned.Year
	no, err := strconv.Atoi(r.PathValue("no"))
	if err != nil || no < 1 || no > len(y.Plantings) {
		return missing(fmt.Sprintf("the plan has no planting %q", r.PathValue("no")), "Choose one from the plan’s list.", "/plan")
	}
	expected, err := p.desk.Expected(planned)
	if err != nil {
		return err
	}
	weather, err := p.desk.Weather()
	if err != nil {
		return err
	}
	page := p.plantingPage(y, g, no-1, newForetold(&y.Plantings[no-1], &expected[no-1], weather.Measured.Estimated, units(g)))
	return p.show(w, http.StatusOK, "planting.html", sheet{Title: page.Crop + ", " + page.Place, Nav: "plan", Body: page})
}

func (p *Pages) plantingPage(y *cropping.Year, g *garden.Garden, no int, f foretold) plantingPage {
	pl, u := &y.Plantings[no], units(g)
	place, _ := g.Place(pl.Place)
	day := pl.OnGround
	page := plantingPage{
		Crop: pl.Crop.Name, CropHref: cropHref(pl.Crop), Kind: kindWords(pl.Class), Route: pl.Route.Name,
		Place: pl.Place, PlaceHref: placeHref(pl.Place, day), Note: placeNote(place, u),
		Strip: stretch(pl.FromCM, pl.ToCM, pl.Pots, u), Steps: steps(pl, f.First, u), Reasons: pl.Reasons,
		Cautions: cautionsOf(pl.Crop), Facts: factGroups(pl.Crop, pl.Route.Key),
		Foretold: f, Lock: lockStateOf(g, pl, no),
	}
	page.Odds = p.pictures.keep(y, "odds"+strconv.Itoa(no), func() template.HTML {
		wide := oddsFigure(pl)
		narrow := wide
		narrow.WidthPX = phonePX
		return block(wide, narrow, 2)
	})
	page.Bed = p.bedBlock(y, g, place, day, 2)
	page.Before, page.After = plantingLink(y, no-1), plantingLink(y, no+1)
	return page
}

func plantingLink(y *cropping.Year, no int) *link {
	if no < 0 || no >= len(y.Plantings) {
		return nil
	}
	return &link{plantingHref(no), y.Plantings[no].Crop.Name + ", " + y.Plantings[no].Place}
}

// steps are the planting's acts in order, each with its figures; first is its
// first picking.
func steps(p *cropping.Planting, first step, u unit.System) []step {
	var out []step
	room := fmt.Sprintf("%s apart in rows %s apart", u.Spacing(unit.Centimetre(p.Route.InRowCM)), u.Spacing(unit.Centimetre(rowApartCM(p))))
	plants := countWords(p)
	switch {
	case p.Stands:
		out = append(out, step{dayLong(p.Start), "Begun; it stands already.", ""})
	case p.SetOut.Known():
		out = append(out,
			step{dayLong(p.Start), fmt.Sprintf("Sow %s, under cover: %s for %s.", p.Route.Name, sowWords(p), plants), trayWords(p)},
			step{dayLong(p.SetOut), fmt.Sprintf("Set out %s, %s.", plants, room), rowWords(p)})
	default:
		out = append(out, step{dayLong(p.Start), fmt.Sprintf("%s for %s, %s%s.", inPlaceWords(p), plants, room, depthWords(p, u)), rowWords(p)})
	}
	return append(out, first, groundFree(p))
}

// groundFree is the last step of a planting.
func groundFree(p *cropping.Planting) step {
	if p.Beyond {
		return step{"stands on", "It stands longer than the plan reaches.", ""}
	}
	return step{dayLong(p.Clear), "The ground is counted free.", "In most years the crop is over by then; clear it and fill the ground again."}
}

// rowApartCM is how far apart the rows stand: as they come out whole, else as
// the book has them.
func rowApartCM(p *cropping.Planting) float64 {
	if p.RowCM > 0 {
		return p.RowCM
	}
	return p.Route.BetweenRowCM
}

func trayWords(p *cropping.Planting) string {
	cells := cellsOf(p)
	if cells == 0 {
		return ""
	}
	return fmt.Sprintf("They take the room of %s of a 40-cell tray at %s.", counted(cells, "cell", "cells"), unit.Metric.Temp(unit.Celsius(p.Route.RaiseC)))
}

func inPlaceWords(p *cropping.Planting) string {
	if p.Route.Vegetative {
		return "Plant " + p.Route.Name
	}
	return "Sow in place, " + p.Route.Name + ": " + counted(p.Seeds, "seed", "seeds")
}

func depthWords(p *cropping.Planting, u unit.System) string {
	if p.Route.SowDepthCM <= 0 {
		return ""
	}
	return ", " + u.Spacing(unit.Centimetre(p.Route.SowDepthCM)) + " deep"
}

func rowWords(p *cropping.Planting) string {
	if p.Pots {
		return fmt.Sprintf("%s, %d in each.", counted(p.Layout.Rows, "pot", "pots"), p.Layout.PerRow)
	}
	if p.Layout.Rows == 0 {
		return ""
	}
	return fmt.Sprintf("%s of %d across the bed.", counted(p.Layout.Rows, "row", "rows"), p.Layout.PerRow)
}
