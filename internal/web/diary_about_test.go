package web

import (
	"regexp"
	"slices"
	"testing"
)

// A screen reader lists the parts of a page by their names; a place in which
// something stands and something is planned has two lists.
func TestEveryListOfTheDiaryHasANameOfItsOwn(t *testing.T) {
	pages, _ := site(t, runningDesk(t))
	page := get(t, pages, "/diary").Body.String()
	var names []string
	planned := 0
	for _, m := range regexp.MustCompile(`<nav [^>]*aria-label="([^"]*)"`).FindAllStringSubmatch(page, -1) {
		if slices.Contains(names, m[1]) {
			t.Errorf("two lists are called %q", m[1])
		}
		names = append(names, m[1])
	}
	for _, name := range names {
		if slices.Contains(names, name+", planned about now") {
			planned++
		}
	}
	if planned == 0 {
		t.Errorf("no place has both lists, so this shows nothing: %q", names)
	}
}
