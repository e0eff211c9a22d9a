package web

import (
	"net/http"

	"haulm/internal/app"
)

// groundEnter puts an offer for a gap into the plan.
func (p *Pages) groundEnter(w http.ResponseWriter, r *http.Request) error {
	_, place, gap, err := p.gapAsked(r)
	if err != nil {
		return err
	}
	entered, err := p.desk.EnterOffer(app.EnterQuestion{Fill: gap, Crop: r.FormValue("crop"), Route: r.FormValue("route"), Class: r.FormValue("class")})
	if err != nil {
		return &trouble{http.StatusConflict, err.Error(), "Nothing was changed.", fillHref(place.Name)}
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
	return seeOther(w, r, fillHref(r.FormValue("place")))
}
