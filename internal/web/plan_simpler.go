package web

import (
	"net/http"
	"strconv"

	"haulm/internal/app"
)

// simplerPage is what a year with fewer plantings costs.
type simplerPage struct {
	Plantings int
	Steps     []simplerStep
	CanUndo   bool
}

type simplerStep struct {
	Fewer, Left int
	Words       string // what it costs or gains
	Share       int    // of the largest loss told, per cent
}

// frontierSteps are how many plantings fewer are told.
var frontierSteps = []int{1, 2, 5, 10, 15, 20, 30}

// simplerShow tells what fewer plantings cost.
func (p *Pages) simplerShow(w http.ResponseWriter, _ *http.Request) error {
	planned, steps, err := p.desk.Frontier(frontierSteps[len(frontierSteps)-1])
	if err != nil {
		return err
	}
	page := simplerPage{Plantings: len(planned.Result.Plantings), CanUndo: p.desk.CanUndoPlan()}
	var told []app.Simpler
	most := 0.0
	for _, n := range frontierSteps {
		if n <= len(steps) {
			told = append(told, steps[n-1])
			most = max(most, steps[n-1].Loss)
		}
	}
	for _, s := range told {
		page.Steps = append(page.Steps, simplerStepOf(s, most))
	}
	return p.show(w, http.StatusOK, "plan_simpler.html", sheet{Title: "A simpler plan", Nav: "plan", Body: page})
}

func simplerStepOf(s app.Simpler, most float64) simplerStep {
	step := simplerStep{Fewer: s.Fewer, Left: s.Left, Words: s.Words()}
	if s.Loss > 0 {
		step.Share = int(100 * s.Loss / most)
	}
	return step
}

// simplerTake makes the simpler plan the present one.
func (p *Pages) simplerTake(w http.ResponseWriter, r *http.Request) error {
	fewer, err := strconv.Atoi(r.FormValue("fewer"))
	if err != nil {
		return invalid("how many plantings fewer was not said", "Choose one of those on the page.", "/plan/simpler")
	}
	if _, _, err := p.desk.TakeSimpler(fewer); err != nil {
		return invalid(err.Error(), "Choose one of those on the page.", "/plan/simpler")
	}
	return seeOther(w, r, planSimpler)
}
