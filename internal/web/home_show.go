package web

import (
	"errors"
	"net/http"

	"haulm/internal/app"
)

// homeShow is the plan, or before there is a garden the form that makes one.
func (p *Pages) homeShow(w http.ResponseWriter, r *http.Request) error {
	_, err := p.desk.Garden()
	if errors.Is(err, app.ErrNoGarden) {
		return p.showFirst(w, http.StatusOK, firstForm(p.desk.Catalogue, p.desk.Kept()))
	}
	if err != nil {
		return err
	}
	return seeOther(w, r, "/plan")
}

func (p *Pages) showFirst(w http.ResponseWriter, status int, f *gardenForm) error {
	return p.show(w, status, "garden_new.html", sheet{Title: "A new garden", Script: "form.js", Body: f})
}
