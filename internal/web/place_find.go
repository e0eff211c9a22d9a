package web

import (
	"encoding/json"
	"net/http"
	"strings"

	"haulm/internal/app"
)

// placesAnswer is what the form's script gets: the places as the form without
// script would list them.
type placesAnswer struct {
	app.PlacesAnswer
	Choices []placeChoice `json:"choices"`
	Say     string        `json:"say,omitempty"` // where there is none, why
}

type placeChoice struct {
	Value  string `json:"value"`
	Name   string `json:"name"`
	Detail string `json:"detail"`
}

// placeFind lists the places of a name as data.
func (p *Pages) placeFind(w http.ResponseWriter, r *http.Request) error {
	out := placesAnswer{PlacesAnswer: app.PlacesAnswer{Places: []app.PlaceAnswer{}}, Choices: []placeChoice{}}
	if q := strings.TrimSpace(r.FormValue("q")); q != "" {
		answer, err := p.atlas.Find(q, mostFound)
		if err != nil {
			out.Say = capital(sentence(err.Error()))
		} else {
			out.PlacesAnswer = *answer
			for _, f := range placesFound(answer) {
				out.Choices = append(out.Choices, placeChoice(f))
			}
		}
	}
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	return json.NewEncoder(w).Encode(out)
}
