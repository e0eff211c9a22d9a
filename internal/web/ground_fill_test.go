package web

import (
	"net/http/httptest"
	"strings"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/garden"
	"haulm/internal/season"
)

// An offer may not promise its ground for longer than the gap is open.
func TestAnOfferEndsWithItsGap(t *testing.T) {
	until := season.Gap{Until: calendar.On(2027, 10, 11)}
	for _, c := range []struct {
		free calendar.Date
		gap  season.Gap
		want string
	}{
		{calendar.On(2027, 8, 24), until, "ground free 24 August in a middling year"},
		{calendar.On(2028, 4, 18), until, "over when the ground is wanted on 11 October"},
		{calendar.On(2028, 4, 18), season.Gap{Until: calendar.None}, "ground free 18 April in a middling year"},
	} {
		if got := freeWords(c.free, c.gap); got != c.want {
			t.Errorf("%s: %q, want %q", c.free, got, c.want)
		}
	}
}

// Of two ends that are wrong the first is told, each time.
func TestTheFirstWrongEndOfAStretchIsTold(t *testing.T) {
	place := garden.Place{Name: "B", Kind: garden.Bed, LengthM: 4, WidthM: 1.2}
	for range 20 {
		_, _, err := stretchAsked(httptest.NewRequest("GET", "/ground/fill?from=here&to=there", nil), place)
		if err == nil || !strings.Contains(err.Error(), `"here"`) {
			t.Fatalf("%v: want a word on %q", err, "here")
		}
	}
}
