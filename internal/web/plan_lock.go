package web

import (
	"fmt"
	"net/http"
	"strconv"

	"haulm/internal/app"
	"haulm/internal/cropping"
	"haulm/internal/garden"
)

// lockState is how the gardener has settled a planting, for its page.
type lockState struct {
	No    int
	Dish  string
	Place string
	Kept  string // in words; "" where it is left to the plan
	Ahead bool   // it is the plan's own, and can be settled
}

func lockStateOf(g *garden.Garden, p *cropping.Planting, no int) lockState {
	s := lockState{No: no + 1, Dish: dishWords(p.Crop.Dish), Place: p.Place, Ahead: !p.Stands}
	if k, ok := app.Kept(g, p); ok {
		s.Kept = "You keep this planting: every new plan has it."
		if k.Always() {
			s.Kept = "You keep this crop here every year."
		}
	}
	return s
}

// lockOf is the planting that a form of its page speaks of.
func (p *Pages) lockOf(r *http.Request) (*garden.Garden, *cropping.Planting, int, error) {
	planned, err := p.desk.Planned()
	if err != nil {
		return nil, nil, 0, err
	}
	g, err := p.desk.Garden()
	if err != nil {
		return nil, nil, 0, err
	}
	no, err := strconv.Atoi(r.FormValue("planting"))
	if err != nil || no < 1 || no > len(planned.Year.Plantings) {
		return nil, nil, 0, missing(fmt.Sprintf("the plan has no planting %q", r.FormValue("planting")), "Choose one from the plan’s list.", "/plan")
	}
	return g, &planned.Year.Plantings[no-1], no - 1, nil
}

// planKeep keeps a planting, this once or every year.
func (p *Pages) planKeep(w http.ResponseWriter, r *http.Request) error {
	_, planting, no, err := p.lockOf(r)
	if err != nil {
		return err
	}
	if err := p.desk.Keep(app.KeepOf(planting, r.FormValue("always") != "")); err != nil {
		return invalid(err.Error(), "Go back to the planting.", plantingHref(no))
	}
	return seeOther(w, r, plantingHref(no)+"#settled")
}

// planLetGo leaves a planting to the plan again.
func (p *Pages) planLetGo(w http.ResponseWriter, r *http.Request) error {
	g, planting, no, err := p.lockOf(r)
	if err != nil {
		return err
	}
	if k, ok := app.Kept(g, planting); ok {
		if err := p.desk.LetGo(k); err != nil {
			return err
		}
	}
	return seeOther(w, r, plantingHref(no)+"#settled")
}

// planBan keeps a planting's dish out of its place, or of the garden; the plan
// then says what no longer fits.
func (p *Pages) planBan(w http.ResponseWriter, r *http.Request) error {
	_, planting, no, err := p.lockOf(r)
	if err != nil {
		return err
	}
	l := garden.Lock{Dish: planting.Crop.Dish, Place: planting.Place}
	if r.FormValue("anywhere") != "" {
		l.Place = ""
	}
	if err := p.desk.Ban(l); err != nil {
		return invalid(err.Error(), "Go back to the planting.", plantingHref(no))
	}
	return seeOther(w, r, "/plan#unfit")
}
