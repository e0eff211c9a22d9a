package web

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/cropping"
	"haulm/internal/season"
	"haulm/internal/unit"
)

// No planting is told by the weather alone: every page gives weight and first
// picking with the model's doubt, says what that counts, and writes no span of
// which both ends read alike.
func TestPlantingsAreToldWithTheModelsDoubt(t *testing.T) {
	desk := plannedDesk(t)
	planned, err := desk.Planned()
	if err != nil {
		t.Fatal(err)
	}
	pages, _ := site(t, desk)
	lead := regexp.MustCompile(`It gives <span class="nowrap">(?:about |up to )?([0-9.,]+)(?:–([0-9.,]+))? kg</span>`)
	for no := range planned.Year.Plantings {
		page := get(t, pages, plantingHref(no)).Body.String()
		gives := lead.FindStringSubmatch(page)
		if gives == nil || gives[1] == gives[2] {
			t.Fatalf("%s: the weight reads %q", plantingHref(no), gives)
		}
		for _, want := range []string{"8 times in 10: over the weather of 30 estimated years, and over how far kinds", "The weather alone takes it in", "are not in that count"} {
			if !strings.Contains(page, want) {
				t.Fatalf("%s lacks %q", plantingHref(no), want)
			}
		}
	}
}

// The list of the plan tells weight and first picking as the plantings' own
// pages do, and by the weather alone only what it says is so.
func TestTheListTellsTheModelsDoubt(t *testing.T) {
	desk := plannedDesk(t)
	planned, err := desk.Planned()
	if err != nil {
		t.Fatal(err)
	}
	expected, err := desk.Expected(planned)
	if err != nil {
		t.Fatal(err)
	}
	pages, _ := site(t, desk)
	page := get(t, pages, "/plan").Body.String()
	for no := range expected {
		row := cutOut(page, `id="planting-`+strconv.Itoa(no+1)+`"`, "</tr>")
		for _, want := range []string{massSpan(&expected[no], unit.Metric), pickIn(expected[no].FirstPick, planned.Year.From.Year()), lostWords(&planned.Year.Plantings[no])} {
			if !strings.Contains(row, want) {
				t.Errorf("planting %d lacks %q", no+1, want)
			}
		}
		if !planned.Year.Plantings[no].Stands && !strings.Contains(row, "the weather alone takes it in") {
			t.Errorf("planting %d does not say what its reasons go by", no+1)
		}
	}
	for _, want := range []string{"hold 8 times in 10: over the weather of 30 estimated years, and over how far kinds", "are of that weather alone", notCounted} {
		if !strings.Contains(page, want) {
			t.Errorf("the list lacks %q", want)
		}
	}
}

// Where a span would mislead the list says what is meant.
func TestRowsWithoutASpan(t *testing.T) {
	july, august := calendar.On(2027, 7, 3), calendar.On(2027, 8, 1)
	y := &cropping.Year{From: calendar.On(2027, 1, 4), Weeks: 80, Plantings: []cropping.Planting{{
		Crop: &crop.Crop{Name: "Leek"}, Route: &crop.Route{}, Start: july, SetOut: noDay, Clear: august, FirstPick: cropping.DateOdds{P10: july},
	}}}
	first := season.Odds{P10: july, P50: july, P90: august}
	for want, e := range map[string]season.Expected{
		"3 Jul – 1 Aug: 0 kg 1–3 kg":                       {FirstPick: first, LowKg: 1, HighKg: 3},
		"3 Jul – 1 Aug: nothing within the plan":           {FirstPick: first, HighKg: 0.01},
		"3 Jul – 1 Aug, by the weather alone: 0 kg 1–3 kg": {FirstPick: first, LowKg: 1, HighKg: 3, KindsLeftOut: true},
	} {
		row := planRowOf(y, 0, &e, unit.Metric)
		if got := row.Pick + ": " + row.Kg + " " + row.KgSpread; got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// cutOut is the text from one mark to the next other.
func cutOut(text, from, to string) string {
	_, text, _ = strings.Cut(text, from)
	text, _, _ = strings.Cut(text, to)
	return text
}

func TestForetoldWords(t *testing.T) {
	july, august := calendar.On(2027, 7, 3), calendar.On(2027, 8, 1)
	odds := func(days ...calendar.Date) season.Odds { return season.Odds{P10: days[0], P50: days[1], P90: days[2]} }
	for _, c := range []struct {
		e    season.Expected
		want step
	}{
		{season.Expected{FirstPick: odds(july, july, august)}, step{"3 Jul – 1 Aug", "First picking, 8 times in 10.", ""}},
		{season.Expected{FirstPick: odds(july, july, august.Add(365))}, step{"3 Jul – 31 Jul 2028", "First picking, 8 times in 10.", ""}},
		{season.Expected{FirstPick: odds(july, july, july)}, step{"about 3 Jul", "First picking, 8 times in 10.", ""}},
		{season.Expected{FirstPick: odds(july, august, noDay)}, step{"by 1 Aug", "First picking, 5 times in 10 by then; it comes fewer than 9 times in 10.", ""}},
		{season.Expected{FirstPick: odds(july, noDay, noDay)}, step{"–", "It comes to no picking more often than not.", ""}},
		{season.Expected{FirstPick: odds(july, july, august), KindsLeftOut: true}, step{"3 Jul – 1 Aug", "First picking, 8 times in 10.", "Over the weather alone."}},
	} {
		if got := firstPicking(&c.e, 2027); got != c.want {
			t.Errorf("got %+v, want %+v", got, c.want)
		}
	}
	p := cropping.Planting{Lost: 3, Clear: noDay, FirstPick: cropping.DateOdds{P10: noDay}}
	if f := newForetold(&p, &season.Expected{}, false, unit.Metric); f.Kg != "nothing within the plan" || !strings.Contains(f.Weather, "takes it in 3 of those years") || !strings.Contains(f.Span, "0 past years") {
		t.Errorf("%+v", f)
	}
	p.Clear, p.FirstPick.P10 = july, august
	if f := newForetold(&p, &season.Expected{HighKg: 3, HighPortions: 9}, false, unit.Metric); f.Kg != "nothing within the plan" || f.Portions != "" || !strings.Contains(f.First.Do, "No picking") {
		t.Errorf("cut short: %+v", f)
	}
}
