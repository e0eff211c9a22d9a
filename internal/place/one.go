package place

import (
	"fmt"
	"strings"
)

// UnknownError says that no place bears a name, with those that come nearest.
type UnknownError struct {
	Query string
	Near  []Match // misspelt or elsewhere; may be empty
}

// Error tells the gardener what to type instead.
func (e *UnknownError) Error() string {
	if len(e.Near) == 0 {
		return fmt.Sprintf("no place called %q is known: try a larger place nearby, or give coordinates such as 53.4 -6.3", e.Query)
	}
	names := make([]string, len(e.Near))
	for i, near := range e.Near {
		names[i] = near.String()
	}
	return fmt.Sprintf("no place called %q is known: did you mean %s? Or give coordinates such as 53.4 -6.3", e.Query, strings.Join(names, "; or "))
}

// suggestions is how many near names an UnknownError lists.
const suggestions = 5

// One is the place that a query most likely means: the most populous of those
// with that name, or whose name begins so. Where no name fits the query as
// spelt, or none in the country or region that it names, the error is an
// *UnknownError. Use Find to offer a choice.
func (g *Gazetteer) One(query string) (Match, error) {
	matches := g.Find(query, suggestions)
	if len(matches) > 0 && matches[0].Kind <= Beginning {
		return matches[0], nil
	}
	if name, _, comma := strings.Cut(query, ","); comma && len(matches) == 0 {
		matches = g.Find(name, suggestions) // the name may be right and the country wrong
	}
	return Match{}, &UnknownError{Query: shorten(query), Near: matches}
}

// shorten keeps an error to a line.
func shorten(query string) string {
	if letters := []rune(query); len(letters) > 60 {
		return string(letters[:60]) + "…"
	}
	return query
}
