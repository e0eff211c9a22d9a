package web

import (
	"strings"
	"testing"
)

// The months stand as bars with the range from the poor to the good year, said
// in words too, for a desk and for a phone.
func TestTheTableDrawsHowYearsDiffer(t *testing.T) {
	pages, _ := site(t, plannedDesk(t))
	page := get(t, pages, "/table").Body.String()
	if n := strings.Count(page, `data-figure="months"`); n != 2 {
		t.Errorf("%d pictures of the months, want 2", n)
	}
	if n := strings.Count(page, `class="f-range"`); n < 12 {
		t.Errorf("%d ranges are drawn", n)
	}
	if n := strings.Count(page, "in a poor year in ten, "); n < 4 {
		t.Errorf("how years differ is said %d times", n)
	}
}
