package web

import (
	"strings"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/cropping"
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

// A spell may be longer than a year: "4 January to 16 July 2028" would be read
// as six months.
func TestAShortSpellOverTwoYearsNamesBoth(t *testing.T) {
	var y cropping.Year
	for monday := calendar.On(2027, 1, 4); monday < calendar.On(2028, 7, 15); monday = monday.Add(7) {
		y.Table = append(y.Table, cropping.Week{Monday: monday, Need: 32})
	}
	if got := shortSpells(&y); len(got) != 1 || got[0].Span != "4 January 2027 to 16 July 2028" || !strings.HasSuffix(got[0].Worst, "of 4 January 2027") {
		t.Errorf("%+v", got)
	}
	y.Table = y.Table[10:14]
	if got := shortSpells(&y); len(got) != 1 || got[0].Span != "15 March to 11 April 2027" {
		t.Errorf("%+v", got)
	}
}

// Ground that cannot bring all that is wished still brings something every week.
func TestTheTableSaysWhatComesWhereNotAllCan(t *testing.T) {
	var y cropping.Year
	for i := range 4 {
		y.Table = append(y.Table, cropping.Week{Monday: calendar.On(2027, 1, 4).Add(7 * i), Need: 21, Portions: cropping.Odds{P50: 7}})
	}
	if got, want := tableSentence("21", &y), "The table would like 21 portions a week. In a middling year it gets 7 of them on the mean, and all of them in no week of 4."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	y.Table[3].Portions.P50, y.Now = 21, 2
	if got, want := tableSentence("21", &y), "14 of them on the mean, and all of them in 1 week of the 2 to come."; !strings.HasSuffix(got, want) {
		t.Errorf("%q, want it to end %q", got, want)
	}
	y.Now = 3
	if got, want := tableSentence("21", &y), "and all of them in every week of the 1 to come."; !strings.HasSuffix(got, want) {
		t.Errorf("%q, want it to end %q", got, want)
	}
}
