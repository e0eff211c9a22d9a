package app

import (
	"fmt"
	"strings"

	"haulm/internal/place"
)

// outweighs is how many times the people of the next place of its name a place
// must have to be meant without a country or region beside it (project choice).
const outweighs = 10

// mostChoices is how many places an ambiguous name lists.
const mostChoices = 8

// AmbiguousError says that several places bear a name.
type AmbiguousError struct {
	Query   string
	Choices []PlaceAnswer // the most populous first
	Say     []string      // what to type for each
	More    bool          // there are more than those
}

// Error lists the choices and how to say which.
func (e *AmbiguousError) Error() string {
	var which []string
	for i, p := range e.Choices {
		is := p.Country
		if !strings.HasPrefix(e.Say[i], p.Name) {
			is = p.FullName()
		}
		which = append(which, fmt.Sprintf("\"%s\" (%s)", e.Say[i], is))
	}
	words := fmt.Sprintf("several places are called %q; say which: %s", e.Query, strings.Join(which, "; "))
	if e.More {
		words += "; or another, with its region or country after a comma, or its coordinates such as \"53.4 -6.3\""
	}
	return words
}

// One is the one place that a query means: a name, with its country or region
// after a comma, or plain coordinates, whose height is that of the land around.
// A name that several places bear is an *AmbiguousError, unless one of them
// outweighs the others by far; an unknown one names the nearest spellings.
func (a *Atlas) One(query string) (PlaceAnswer, error) {
	if lat, lon, ok := place.ParseCoordinates(query); ok {
		height, err := GroundHeight(lat, lon)
		return PlaceAnswer{Name: fmt.Sprintf("%g %g", lat, lon), LatDeg: lat, LonDeg: lon, ElevM: height, ElevEstimated: true}, err
	}
	gazetteer, err := a.open()
	if err != nil {
		return PlaceAnswer{}, err
	}
	best, err := gazetteer.One(query)
	if err != nil {
		return PlaceAnswer{}, err
	}
	rivals := rivalsOf(best, gazetteer.Find(query, mostChoices+1))
	if len(rivals) < 2 {
		return placeAnswer(best.Place, best.Spelling), nil
	}
	e := &AmbiguousError{Query: query, More: len(rivals) > mostChoices}
	for _, m := range rivals[:min(len(rivals), mostChoices)] {
		e.Choices = append(e.Choices, placeAnswer(m.Place, m.Spelling))
		e.Say = append(e.Say, sayWhich(gazetteer, m.Place))
	}
	return PlaceAnswer{}, e
}

// rivalsOf are the places that a query may as well mean, the best among them.
func rivalsOf(best place.Match, all []place.Match) (rivals []place.Match) {
	for _, m := range all {
		if m.Kind != best.Kind {
			continue
		}
		if len(rivals) == 1 && rivals[0].Population >= outweighs*max(1, m.Population) {
			return rivals
		}
		rivals = append(rivals, m)
	}
	return rivals
}

// sayWhich is the shortest of a place's descriptions that means it and no
// other, else its coordinates.
func sayWhich(gazetteer *place.Gazetteer, p place.Place) string {
	for _, text := range []string{p.Name + ", " + p.Region, p.Name + ", " + p.Country, p.String()} {
		best, err := gazetteer.One(text)
		if err == nil && best.Place == p && len(rivalsOf(best, gazetteer.Find(text, 2))) < 2 {
			return text
		}
	}
	return fmt.Sprintf("%.3f %.3f", p.LatDeg, p.LonDeg)
}
