package web

import (
	"fmt"
	"net/http"
	"net/url"
	"strconv"

	"haulm/internal/app"
	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/garden"
	"haulm/internal/ground"
	"haulm/internal/season"
	"haulm/internal/unit"
)

// fillPage is a free stretch of ground and what can still go into it.
type fillPage struct {
	Place, PlaceHref string
	Strip, Until     string
	FromCM, ToCM     int
	Longest          int
	Holds, Counts    string // what the spans hold, and what the chances leave out
	Unit             string
	Offers           []offerLine
	None             string
	Kept             bool // an offer can be taken
}

// offerLine is one crop that can still go in.
type offerLine struct {
	Crop, CropHref, How string
	Chance, Made        string
	Share               int
	Pick, Free          string
	Plants, Kg          string
	Adds                string
	Key, Route, Class   string // of the offer, to take it
	Needs, Cautions     []string
}

// offersShown is how many crops a page offers; the rest is worse.
const offersShown = 6

// groundFill tells what can still go into a gap.
func (p *Pages) groundFill(w http.ResponseWriter, r *http.Request) error {
	g, place, q, err := p.gapAsked(r)
	if err != nil {
		return err
	}
	page := fillPage{Place: place.Name, PlaceHref: placeHref(place.Name, p.desk.Today()), Longest: place.LengthCM(), Kept: p.canEnter()}
	page.FromCM, page.ToCM = q.FromCM, q.ToCM
	answer, err := p.desk.Fill(q)
	if err != nil {
		page.None = capital(sentence(err.Error()))
		return p.showFill(w, page)
	}
	u := units(g)
	page.Holds, page.Counts = answer.Holds, notCounted
	page.FromCM, page.ToCM = answer.Gap.FromCM, answer.Gap.ToCM
	page.Strip, page.Until = stretch(answer.Gap.FromCM, answer.Gap.ToCM, place.Kind == garden.Pots, u), untilGap(answer.Gap)
	for i := range answer.Offers[:min(offersShown, len(answer.Offers))] {
		page.Offers = append(page.Offers, p.offerLine(&answer.Offers[i], answer.Gap, u))
	}
	if len(page.Offers) == 0 {
		page.None = "Nothing that the table wants would make it in time, or the families that grew here must rest. A green manure, or a mulch, keeps the ground in heart."
	}
	return p.showFill(w, page)
}

// gapAsked is the place and the stretch of it that a page of gaps is asked about.
func (p *Pages) gapAsked(r *http.Request) (*garden.Garden, garden.Place, app.FillQuestion, error) {
	g, err := p.desk.Garden()
	if err != nil {
		return nil, garden.Place{}, app.FillQuestion{}, err
	}
	if r.FormValue("place") == "" {
		return nil, garden.Place{}, app.FillQuestion{}, invalid("the address does not say which place has room", "Choose the place on the Ground page, and ask there what can still go in.", "/ground")
	}
	place, ok := g.Place(r.FormValue("place"))
	if !ok {
		return nil, place, app.FillQuestion{}, missing(fmt.Sprintf("the garden has no place called %q", r.FormValue("place")), "Choose one of its places.", "/ground")
	}
	q := app.FillQuestion{Place: place.Name, Day: calendar.None}
	q.FromCM, q.ToCM, err = stretchAsked(r, place)
	return g, place, q, err
}

// fillHref is the page that tells what can still go into a place.
func fillHref(place string) string { return "/ground/fill?" + url.Values{"place": {place}}.Encode() }

func (p *Pages) showFill(w http.ResponseWriter, page fillPage) error {
	return p.show(w, http.StatusOK, "ground_fill.html", sheet{Title: "A gap in " + page.Place, Nav: "ground", Body: page})
}

// canEnter says whether there is a plan into which an offer could go.
func (p *Pages) canEnter() bool {
	planned, err := p.desk.Planned()
	return err == nil && planned.Year.From <= p.desk.Today()
}

// stretchAsked reads the stretch asked for, in centimetres; none is the
// longest that is free.
func stretchAsked(r *http.Request, place garden.Place) (from, to int, err error) {
	for _, field := range []struct {
		name string
		into *int
	}{{"from", &from}, {"to", &to}} {
		text := r.FormValue(field.name)
		if text == "" {
			continue
		}
		if *field.into, err = strconv.Atoi(text); err != nil || *field.into < 0 || *field.into > place.LengthCM() {
			return 0, 0, invalid(fmt.Sprintf("%q is no number of centimetres along %s, which is %d cm long", text, place.Name, place.LengthCM()), "Write the stretch in whole centimetres.", placeHref(place.Name, noDay))
		}
	}
	return from, to, nil
}

func untilGap(gap season.Gap) string {
	if !gap.Until.Known() {
		return "Nothing is planned there."
	}
	return fmt.Sprintf("Free until %s, when %s takes it.", dayMonth(gap.Until), crop.InSentence(gap.Next))
}

func (p *Pages) offerLine(o *season.Offer, gap season.Gap, u unit.System) offerLine {
	line := offerLine{
		Crop: capital(o.Name), How: o.How, Chance: season.TimesInTen(o.Chance), Share: percentOf(o.Chance),
		Pick: pickIn(o.FirstPick, p.desk.Today().Year()), Free: freeWords(o.Free, gap), Plants: ground.CountWords(o.Plants, o.Clumps),
		Kg: o.Weight, Key: o.CropKey, Route: o.RouteKey, Class: o.Class, Adds: unit.Span(o.LowPortions, o.HighPortions, 0, "portion", "portions"), Needs: o.Needs, Cautions: sentences(o.Cautions),
	}
	if c := p.desk.Catalogue.Crop(o.CropKey); c != nil {
		line.CropHref = cropHref(c)
	}
	return line
}

// freeWords says when the ground is free of an offer, or wanted for what is
// planned after it.
func freeWords(free calendar.Date, gap season.Gap) string {
	if gap.Until.Known() && free >= gap.Until {
		return "over when the ground is wanted on " + dayMonth(gap.Until)
	}
	return "ground free " + dayMonth(free) + " in a middling year"
}
