package web

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
)

// searchSeconds are the times offered for a search.
var searchSeconds = []int{5, 15, 60, 300}

const usualSeconds = 15

// planMake begins a search and shows it.
func (p *Pages) planMake(w http.ResponseWriter, r *http.Request) error {
	g, err := p.desk.Garden()
	if err != nil {
		return err
	}
	if len(g.Places) == 0 {
		return invalid("the garden has no places to plant", "Add a bed or a set of pots.", "/garden#places")
	}
	seconds := usualSeconds
	if text := r.FormValue("seconds"); text != "" {
		if seconds, err = strconv.Atoi(text); err != nil || !slices.Contains(searchSeconds, seconds) {
			return invalid(fmt.Sprintf("a search of %q seconds is not offered", text), "Choose one of the times on the Plan page.", "/plan")
		}
	}
	p.planner.start(noDay, float64(seconds), planSeed)
	return seeOther(w, r, "/plan/progress")
}

// planSeed is the search's seed: the same garden, weather and time give much
// the same plan.
const planSeed = 1

// planStop ends the search; the best plan so far is kept.
func (p *Pages) planStop(w http.ResponseWriter, r *http.Request) error {
	select {
	case <-p.planner.halt():
	case <-r.Context().Done():
	}
	return seeOther(w, r, "/plan")
}
