package web

import (
	"cmp"
	"errors"
	"fmt"
	"html/template"
	"net/http"
	"slices"
	"strings"

	"haulm/internal/app"
	"haulm/internal/cropping"
	"haulm/internal/garden"
	"haulm/internal/plan"
	"haulm/internal/season"
	"haulm/internal/unit"
)

// planPage is the plan of a year.
type planPage struct {
	Changed      planChanged
	From         string
	Weeks        int
	WeatherYears int

	Poor, Middling, Good string // portions in the first 52 weeks
	Wanted, ShareWanted  string
	Idle, Kg, Ground     string
	HoursAWeek           string
	Proof                string // how far from the best plan there can be

	Drawing       template.HTML
	Places        []planPlace
	Holds, Counts string // what the spans of the list hold, and what its odds leave out
	Yardsticks    []yardstick
	Search        searchForm
	CutShort      bool     // a search is going on
	Unfit         []string // plantings that the garden no longer lets stand
	CanUndo       bool
	Tidy          string // what whole rows and even steps cost
	Shade         string // noon shade that is left
	CanUndoGarden bool
	Rest          bool // part of the plan is past, and its rest can be planned again
}

// planPlace is one place's plantings.
type planPlace struct {
	Name, Note, Href string
	Rows             []planRow
}

// planRow is one planting of the list.
type planRow struct {
	No                          int
	Href, Crop, Kind, Route     string
	Strip, Sown, SetOut         string
	Pick, Cleared, Kg, KgSpread string
	Plants, Lost                string
	Odds                        template.HTML
	Reasons                     []string
	Care                        []caution
}

// yardstick is one published whole garden, or this plan, beside the others.
type yardstick struct {
	Own                             bool
	Name, Figure, Source, Trust, On string
	Share                           int // of the largest of its unit, per cent
}

// searchForm is the button that makes a plan.
type searchForm struct {
	Seconds []int
	Usual   int
	Again   bool
}

func newSearchForm(again bool) searchForm { return searchForm{searchSeconds, usualSeconds, again} }

// planShow is the plan, or the button that makes one.
func (p *Pages) planShow(w http.ResponseWriter, r *http.Request) error {
	g, err := p.desk.Garden()
	if err != nil {
		return err
	}
	if s, ok := p.planner.now(); ok && !s.over {
		return p.show(w, http.StatusOK, "plan_none.html", sheet{Title: "Plan", Nav: "plan", Body: planPage{CutShort: true}})
	}
	planned, err := p.desk.Planned()
	if errors.Is(err, app.ErrNoPlan) {
		return p.show(w, http.StatusOK, "plan_none.html", sheet{Title: "Plan", Nav: "plan", Body: planPage{Search: newSearchForm(false)}})
	}
	if err != nil {
		return err
	}
	page := p.planPage(planned, g)
	if err := p.planList(&page, planned, g); err != nil {
		return err
	}
	page.Changed = p.planChanged(r)
	return p.show(w, http.StatusOK, "plan.html", sheet{Title: "Plan", Nav: "plan", Scripts: []string{"blocks.js"}, Body: page})
}

func (p *Pages) planPage(planned *app.Planned, g *garden.Garden) planPage {
	y := planned.Year
	t, u := y.Totals, units(g)
	wanted := 0.0
	for _, week := range y.FirstYear {
		wanted += week.Need
	}
	page := planPage{
		From: dayLong(y.From), Weeks: y.Weeks, WeatherYears: y.WeatherYears,
		Poor: count(t.FirstYear.P10), Middling: count(t.FirstYear.P50), Good: count(t.FirstYear.P90),
		Wanted: count(wanted), ShareWanted: percent(t.FirstYear.P50 / max(wanted, 1)),
		Idle: percent(y.IdleShare), Kg: u.Mass(unit.Kilogram(t.YearKg.P50)), Ground: areaWords(t.GroundM2, u),
		HoursAWeek: unit.Number(t.HoursAWeek, 1),
		Search:     newSearchForm(true), Yardsticks: yardsticks(t, u), Proof: proofWords(planned.Result),
	}
	page.Unfit, page.CanUndo = unfitWords(planned.Unfit), p.desk.CanUndoPlan()
	page.CanUndoGarden = p.desk.CanUndo()
	if planned.Shade > 0 {
		page.Shade = "tall crops go to the pole side of their beds where that is free; at noon what is left comes to " + areaWords(planned.Shade, u) + " for a week, which is not charged"
	}
	if planned.TidyLoss > 0 {
		page.Tidy = "whole rows and even steps between sowings cost " + unit.Number(100*planned.TidyLoss, 1) + " % of its worth"
	}
	page.Rest = p.desk.Today() > y.From || len(planned.Unfit) > 0
	page.Drawing = p.pictures.keep(y, "ground", func() template.HTML {
		wide, narrow := p.groundFigures(y)
		return block(wide, narrow, 2)
	})
	return page
}

// planList fills in what goes where, and when.
func (p *Pages) planList(page *planPage, planned *app.Planned, g *garden.Garden) error {
	expected, err := p.desk.Expected(planned)
	if err != nil {
		return err
	}
	weather, err := p.desk.Weather()
	if err != nil {
		return err
	}
	page.Holds, page.Counts = season.HoldsWords(season.YearsWords(planned.Year.WeatherYears, weather.Measured.Estimated)), notCounted
	for _, place := range g.Places {
		page.Places = append(page.Places, planPlaceOf(planned.Year, expected, place, units(g)))
	}
	return nil
}

// proofWords says how much better any plan of this ground could be.
func proofWords(r plan.Result) string {
	if r.Bound <= 0 || r.Gap >= 0.5 {
		return ""
	}
	return "No plan for this ground can be worth more than " + unit.Number(100*r.Gap/(1-r.Gap), 1) + " % above it"
}

func planPlaceOf(y *cropping.Year, expected []season.Expected, place garden.Place, u unit.System) planPlace {
	out := planPlace{Name: place.Name, Note: placeNote(place, u), Href: placeHref(place.Name, noDay)}
	for i := range y.Plantings {
		if y.Plantings[i].Place == place.Name {
			out.Rows = append(out.Rows, planRowOf(y, i, &expected[i], u))
		}
	}
	slices.SortStableFunc(out.Rows, func(a, b planRow) int { return cmp.Compare(y.Plantings[a.No-1].Start, y.Plantings[b.No-1].Start) })
	return out
}

func planRowOf(y *cropping.Year, no int, e *season.Expected, u unit.System) planRow {
	p, year := &y.Plantings[no], y.From.Year()
	row := planRow{
		No: no + 1, Href: plantingHref(no), Crop: p.Crop.Name, Kind: kindWords(p.Class), Route: p.Route.Name,
		Strip: stretch(p.FromCM, p.ToCM, p.Pots, u), Sown: dayIn(p.Start, year),
		Pick: pickIn(e.FirstPick, year), Cleared: dayIn(p.Clear, year), Plants: countWords(p),
		Kg: u.Mass(unit.Kilogram(p.Kg.P50)), KgSpread: massSpan(e, u), Lost: lostWords(p),
		Odds: planTicks(y, p).SVG(), Reasons: p.Reasons, Care: cautionsOf(p.Crop),
	}
	if p.SetOut.Known() {
		row.SetOut = dayIn(p.SetOut, year)
	}
	if p.Stands {
		row.Sown = p.Start.Format("Jan 2006")
	}
	if p.Beyond {
		row.Cleared = "stands on"
	}
	switch {
	case cutShort(p):
		row.Pick, row.Kg, row.KgSpread, row.Lost, row.Odds = "–", "nothing", "", "cut short by the season", ""
	case e.HighKg < leastToldKg:
		row.Kg, row.KgSpread = "nothing", "within the plan"
	case e.KindsLeftOut:
		row.Pick += ", by the weather alone"
	}
	return row
}

// kindWords names the kind where it is not the middling one.
func kindWords(class string) string {
	if class == "" || class == "mid" {
		return ""
	}
	return class + " kind"
}

// lostWords is in how many years the weather alone takes a planting.
func lostWords(p *cropping.Planting) string {
	return fmt.Sprintf("%s of %d years lost", noneOr(p.Lost), len(p.Courses))
}

// planTicks lays a planting's years on the weeks of the plan.
func planTicks(y *cropping.Year, p *cropping.Planting) ticks {
	t := ticks{Family: p.Crop.Family, Span: 7 * y.Weeks, Lost: p.Lost}
	for _, c := range p.Courses {
		if !c.Failed() {
			t.Days = append(t.Days, min(max(int(p.Start-y.From)+int(c.FirstPick-c.Start), 0), t.Span))
		}
	}
	t.Says = fmt.Sprintf("By the weather alone, %s; first picked: %s", lostWords(p), between(p.FirstPick))
	return t
}

// yardsticks set the plan among the published whole gardens, unit by unit.
func yardsticks(t cropping.Totals, u unit.System) []yardstick {
	own := []cropping.Yardstick{
		{Name: "This plan", Unit: "kg/m2", Value: t.KgPerM2}, {Name: "This plan", Unit: "min/m2", Value: t.MinPerM2},
		{Name: "This plan", Unit: "min/kg", Value: t.MinPerKg},
	}
	var out []yardstick
	for _, mine := range own {
		group := []cropping.Yardstick{mine}
		for _, other := range t.Yardsticks {
			if other.Unit == mine.Unit {
				group = append(group, other)
			}
		}
		slices.SortStableFunc(group, func(a, b cropping.Yardstick) int { return cmp.Compare(a.Value, b.Value) })
		most := group[len(group)-1].Value
		for _, y := range group {
			out = append(out, yardstick{
				Own: y.Source == "", Name: capital(y.Name), Figure: yardFigure(y.Value, y.Unit, u),
				Source: y.Source, Trust: gradeWords(y.Grade), On: y.Note, Share: int(100 * y.Value / max(most, 1e-9)),
			})
		}
	}
	return out
}

// yardFigure is a yardstick's figure in the household's units.
func yardFigure(value float64, of string, u unit.System) string {
	if u == unit.Metric {
		return unit.Number(value, 1) + " " + strings.ReplaceAll(of, "m2", "m²")
	}
	pounds := float64(unit.Kilogram(1).Pounds())
	switch of {
	case "kg/m2":
		return unit.Number(perArea(value*pounds, u), 2) + " lb/sq ft"
	case "min/m2":
		return unit.Number(perArea(value, u), 1) + " min/sq ft"
	}
	return unit.Number(value/pounds, 1) + " min/lb"
}
