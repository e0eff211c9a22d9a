package web

import (
	"encoding/json"
	"net/http"
)

// planExport is the plan as JSON, in the form that haulm plan prints.
func (p *Pages) planExport(w http.ResponseWriter, _ *http.Request) error {
	planned, err := p.desk.Planned()
	if err != nil {
		return err
	}
	weather, err := p.desk.Weather()
	if err != nil {
		return err
	}
	expected, err := p.desk.Expected(planned)
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "no-store")
	out := json.NewEncoder(w)
	out.SetIndent("", " ")
	return out.Encode(planned.Answer(expected, weather.Measured.Estimated))
}
