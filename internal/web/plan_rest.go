package web

import (
	"errors"
	"net/http"
	"sync"

	"haulm/internal/app"
	"haulm/internal/cropping"
	"haulm/internal/garden"
)

// rests keeps the change to the plan that was shown last.
type rests struct {
	mu    sync.Mutex
	shown *app.Rest
}

func (k *rests) keep(r *app.Rest) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.shown = r
}

func (k *rests) last() *app.Rest {
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.shown
}

// restPage is the plan's rest planned again, as changes.
type restPage struct {
	Today   string
	From    string
	Shown   bool // a change was asked for
	Day     string
	Basis   string
	Changes []restRow
	Table   string
	Refused []string
	CanUndo bool
}

// restRow is one change.
type restRow struct{ Kind, Crop, Words, Why string }

// restShow is the change that waits to be accepted, and the way to ask for one.
func (p *Pages) restShow(w http.ResponseWriter, _ *http.Request) error {
	planned, err := p.desk.Planned()
	if err != nil {
		return err
	}
	g, err := p.desk.Garden()
	if err != nil {
		return err
	}
	page := restPage{Today: dayLong(p.desk.Today()), From: dayLong(planned.Year.From), CanUndo: p.desk.CanUndoPlan()}
	if r := p.rests.last(); r != nil {
		fillRest(&page, r, g)
	}
	return p.show(w, http.StatusOK, "plan_rest.html", sheet{Title: "The rest of the plan", Nav: "plan", Body: page})
}

func fillRest(page *restPage, r *app.Rest, g *garden.Garden) {
	u := units(g)
	page.Shown, page.Day, page.Basis, page.Table = true, dayLong(r.Day), r.BasisWords(), r.TableWords()
	for _, line := range r.Lines(func(p *cropping.Planting) string { return stretch(p.FromCM, p.ToCM, p.Pots, u) }) {
		page.Changes = append(page.Changes, restRow{capital(string(line.Kind)), capital(line.Crop), line.Words, capital(line.Why)})
	}
	page.Refused = unfitWords(r.New.Unfit)
}

// unfitWords says of each planting that does not fit why not.
func unfitWords(unfit []cropping.Unfit) []string {
	var out []string
	for _, f := range unfit {
		words := capital(app.KindOf(f.Class, f.Name)) + ", " + f.Place
		if f.Start.Known() {
			words += ", from " + dayMonth(f.Start)
		}
		out = append(out, words+": "+f.Why+".")
	}
	return out
}

// restMake plans the rest again and shows the change.
func (p *Pages) restMake(w http.ResponseWriter, r *http.Request) error {
	unnoted := app.Unnoted(r.FormValue("unnoted"))
	if unnoted != app.UnnotedAuto && unnoted != app.UnnotedDone && unnoted != app.UnnotedMissed {
		return invalid("that is no way of reading the diary", "Choose one of those on the page.", "/plan/rest")
	}
	rest, err := p.desk.PlanRest(r.Context(), app.RestQuestion{Day: noDay, Seed: planSeed, Unnoted: unnoted})
	if errors.Is(err, app.ErrNoPlan) || errors.Is(err, app.ErrNoGarden) {
		return err
	}
	if err != nil {
		return &trouble{http.StatusConflict, err.Error(), "See to that first, or make a new plan.", "/plan"}
	}
	p.rests.keep(rest)
	return seeOther(w, r, "/plan/rest")
}

// restAccept makes the change that was shown the plan.
func (p *Pages) restAccept(w http.ResponseWriter, r *http.Request) error {
	if err := p.desk.AcceptRest(); err != nil {
		p.rests.keep(nil)
		return &trouble{http.StatusConflict, err.Error(), "Ask for the change again.", "/plan/rest"}
	}
	p.rests.keep(nil)
	return seeOther(w, r, planAccepted)
}

// restLeave leaves the plan as it is.
func (p *Pages) restLeave(w http.ResponseWriter, r *http.Request) error {
	p.rests.keep(nil)
	if err := p.desk.LeaveRest(); err != nil {
		return err
	}
	return seeOther(w, r, "/plan")
}

// planUndo brings back the plan before this one.
func (p *Pages) planUndo(w http.ResponseWriter, r *http.Request) error {
	if err := p.desk.UndoPlan(); err != nil {
		return &trouble{http.StatusConflict, err.Error(), "The plan is as it was.", "/plan"}
	}
	p.rests.keep(nil)
	return seeOther(w, r, planTakenBack)
}
