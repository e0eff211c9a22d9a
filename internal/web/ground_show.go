package web

import (
	"errors"
	"fmt"
	"html/template"
	"net/http"

	"haulm/internal/app"
	"haulm/internal/calendar"
	"haulm/internal/cropping"
	"haulm/internal/garden"
	"haulm/internal/unit"
)

// groundPage is the places, and one of them on a day.
type groundPage struct {
	Places  []groundLine
	Chosen  string
	Note    string
	Day     string // ISO, for the form
	DayLong string
	DayName string
	Weeks   []weekLink
	Bed     template.HTML
	Through template.HTML
	Stands  []standLine
	Resting []restLine
	NoPlan  bool
}

type groundLine struct {
	Name, Href string
	Chosen     bool
}

type weekLink struct {
	Href, Name string
	Rel        string
}

// standLine is what stands there on the day.
type standLine struct {
	Href, Crop, Strip, Stage, Plants, Spread string
}

// restLine is a group that keeps off a stretch.
type restLine struct{ Strip, Why string }

// groundShow is the places and one of them on a day.
func (p *Pages) groundShow(w http.ResponseWriter, r *http.Request) error {
	g, err := p.desk.Garden()
	if err != nil {
		return err
	}
	if len(g.Places) == 0 {
		return p.show(w, http.StatusOK, "ground.html", sheet{Title: "Ground", Nav: "ground", Body: groundPage{}})
	}
	place := g.Places[0]
	if name := r.FormValue("place"); name != "" {
		found, ok := g.Place(name)
		if !ok {
			return missing(fmt.Sprintf("the garden has no place called %q", name), "Choose one of its places.", "/ground")
		}
		place = found
	}
	var y *cropping.Year
	planned, err := p.desk.Planned()
	switch {
	case err == nil:
		y = planned.Year
	case !errors.Is(err, app.ErrNoPlan):
		return err
	}
	day, err := p.groundDay(r.FormValue("day"), y)
	if err != nil {
		return err
	}
	page, err := p.groundPage(g, y, place, day)
	if err != nil {
		return err
	}
	return p.show(w, http.StatusOK, "ground.html", sheet{Title: place.Name, Nav: "ground", Scripts: []string{"blocks.js"}, Body: page})
}

// groundDay is the day asked for: today, or the plan's midsummer where today
// lies outside it.
func (p *Pages) groundDay(text string, y *cropping.Year) (calendar.Date, error) {
	if text != "" {
		day, err := calendar.Parse(text)
		if err != nil {
			return day, invalid(err.Error(), "Write the day as year, month and day.", "/ground")
		}
		return day, nil
	}
	day := p.desk.Today()
	if y != nil && (day < y.From || day >= y.From.Add(7*y.Weeks)) {
		day = y.From.Add(7 * 26)
	}
	return day, nil
}

func (p *Pages) groundPage(g *garden.Garden, y *cropping.Year, place garden.Place, day calendar.Date) (groundPage, error) {
	u := units(g)
	page := groundPage{
		Chosen: place.Name, Note: placeNote(place, u), Day: day.String(), DayLong: dayLong(day), DayName: dayMonth(day),
		NoPlan: y == nil, Bed: p.bedBlock(y, g, place, day, 2), Weeks: weekLinks(place.Name, day),
	}
	for _, other := range g.Places {
		page.Places = append(page.Places, groundLine{other.Name, placeHref(other.Name, day), other.Name == place.Name})
	}
	resting, err := p.desk.Resting(place.Name, day)
	if err != nil {
		return page, err
	}
	for _, rest := range resting {
		page.Resting = append(page.Resting, restLine{stretch(rest.FromCM, rest.ToCM, place.Kind == garden.Pots, u), rest.Ban.Why})
	}
	if y != nil {
		page.Stands = standLines(y, place.Name, day, u)
		page.Through = p.pictures.keep(y, "through "+place.Name, func() template.HTML { return p.throughTime(y, place.Name) })
	}
	return page, nil
}

// throughTime is one place's ground through time, with the frost over it.
func (p *Pages) throughTime(y *cropping.Year, name string) template.HTML {
	wide, narrow := p.groundFigures(y)
	for i := range wide.Places {
		if wide.Places[i].Name == name {
			wide.Places = wide.Places[i : i+1]
			narrow.Places = wide.Places
			break
		}
	}
	wide.Title, narrow.Title = "The year in "+name, "The year in "+name
	return block(wide, narrow, 2)
}

func weekLinks(place string, day calendar.Date) []weekLink {
	var out []weekLink
	for _, step := range []struct {
		days      int
		name, rel string
	}{{-28, "four weeks sooner", ""}, {-7, "a week sooner", "prev"}, {7, "a week later", "next"}, {28, "four weeks later", ""}} {
		out = append(out, weekLink{placeHref(place, day.Add(step.days)) + "#bed", step.name, step.rel})
	}
	return out
}

func standLines(y *cropping.Year, place string, day calendar.Date, u unit.System) []standLine {
	var out []standLine
	for _, stand := range app.StandsOn(y, place, day) {
		pl := &y.Plantings[stand.No]
		line := standLine{plantingHref(stand.No), pl.Crop.Name, stretch(pl.FromCM, pl.ToCM, pl.Pots, u), stand.Stage,
			countWords(pl), "–"}
		if stand.SpreadM > 0 {
			line.Spread = u.Spacing(unit.Centimetre(100 * stand.SpreadM))
		}
		out = append(out, line)
	}
	return out
}
