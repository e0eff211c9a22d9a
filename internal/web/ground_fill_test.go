package web

import (
	"testing"

	"haulm/internal/calendar"
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
