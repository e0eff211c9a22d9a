package web

import "net/http"

// planChanged says what was done to the plan just before its page was shown.
type planChanged struct {
	Says string
	Undo bool // it can be undone
}

// Where the plan's page is told what was done to it.
const (
	planAccepted  = "/plan?changed=rest"
	planSimpler   = "/plan?changed=simpler"
	planTakenBack = "/plan?changed=undone"
)

func (p *Pages) planChanged(r *http.Request) planChanged {
	switch r.FormValue("changed") {
	case "rest":
		return planChanged{"The change is kept: this is the plan from now on.", p.desk.CanUndoPlan()}
	case "simpler":
		return planChanged{"The simpler plan is kept: this is the plan from now on.", p.desk.CanUndoPlan()}
	case "undone":
		return planChanged{Says: "The plan before is back."}
	}
	return planChanged{}
}
