package web

import (
	"net/http"
	"net/url"

	"haulm/internal/app"
	"haulm/internal/calendar"
)

// groundEnter puts an offer for a gap into the plan.
func (p *Pages) groundEnter(w http.ResponseWriter, r *http.Request) error {
	g, err := p.desk.Garden()
	if err != nil {
		return err
	}
	place, ok := g.Place(r.FormValue("place"))
	if !ok {
		return missing("the garden has no such place", "Choose one of its places.", "/ground")
	}
	q := app.EnterQuestion{
		Fill: app.FillQuestion{Place: place.Name, Day: calendar.None},
		Crop: r.FormValue("crop"), Route: r.FormValue("route"), Class: r.FormValue("class"),
	}
	if q.Fill.FromCM, q.Fill.ToCM, err = stretchAsked(r, place); err != nil {
		return err
	}
	entered, err := p.desk.EnterOffer(q)
	if err != nil {
		return &trouble{http.StatusConflict, err.Error(), "Nothing was changed.", "/ground/fill?place=" + url.QueryEscape(place.Name)}
	}
	return p.show(w, http.StatusOK, "ground_entered.html", sheet{Title: "In the plan", Nav: "ground", Body: enteredPage{
		Says: capital(sentence(entered.Says)), Place: place.Name, PlaceHref: placeHref(place.Name, p.desk.Today()),
	}})
}

// enteredPage says what was put into the plan.
type enteredPage struct{ Says, Place, PlaceHref string }

// groundEnterUndo takes it out again.
func (p *Pages) groundEnterUndo(w http.ResponseWriter, r *http.Request) error {
	if _, err := p.desk.UndoEnter(); err != nil {
		return &trouble{http.StatusConflict, err.Error(), "The plan is as it was.", "/plan"}
	}
	return seeOther(w, r, "/ground/fill?place="+url.QueryEscape(r.FormValue("place")))
}
