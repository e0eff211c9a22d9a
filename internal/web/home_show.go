package web

import (
	"errors"
	"net/http"

	"haulm/internal/app"
)

// homeShow is the morning, before there is a plan the button that makes one,
// and before there is a garden the form that makes that.
func (p *Pages) homeShow(w http.ResponseWriter, r *http.Request) error {
	_, err := p.desk.Garden()
	if errors.Is(err, app.ErrNoGarden) {
		return p.showFirst(w, http.StatusOK, firstForm(p.desk.Catalogue, p.desk.Kept()))
	}
	if err != nil {
		return err
	}
	if _, err := p.desk.Planned(); err == nil {
		return seeOther(w, r, "/today")
	}
	return seeOther(w, r, "/plan")
}

func (p *Pages) showFirst(w http.ResponseWriter, status int, f *gardenForm) error {
	f.showMeasures()
	return p.show(w, status, "garden_new.html", sheet{Title: "A new garden", Scripts: []string{"form.js", "places.js"}, Body: f})
}
