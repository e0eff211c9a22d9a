package app

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/cropping"
	"haulm/internal/diary"
	"haulm/internal/season"
)

// The rest of the plan and the next year's garden take what nobody noted alike:
// as done while the diary has no word on the plan, as never begun from its
// first word on.
func TestTheRestAndTheNextYearTakeSilenceAlike(t *testing.T) {
	desk := restDesk(t, time.Date(2027, 10, 4, 7, 0, 0, 0, time.UTC))
	unnoted := func() (of, all int) {
		t.Helper()
		n, err := desk.NextYear(2027)
		if err != nil {
			t.Fatal(err)
		}
		for _, g := range n.Grown {
			if strings.HasPrefix(g.From, "the plan") {
				all++
			}
			if g.Unnoted {
				of++
			}
		}
		for _, s := range n.Stands {
			if strings.HasPrefix(s.From, "the plan") {
				all++
			}
			if s.Unnoted {
				of++
			}
		}
		return of, all
	}
	if of, all := unnoted(); !restStarted(t, desk).assumed || of != 0 || all < 10 {
		t.Errorf("with an empty diary the rest does not take the plan as carried out, or %d of %d lines by the plan are left out", of, all)
	}
	if _, err := desk.NoteEntry(firstSown(t, desk)); err != nil {
		t.Fatal(err)
	}
	r := restStarted(t, desk)
	if of, all := unnoted(); r.assumed || len(r.missed) < 10 || of != all || all < 10 || all > len(r.missed) {
		t.Errorf("with a word on the plan: the rest assumes %v and misses %d, of %d lines by the plan %d are left out", r.assumed, len(r.missed), all, of)
	}
	n, err := desk.NextYear(2027)
	if err != nil {
		t.Fatal(err)
	}
	for _, g := range n.Grown {
		if g.Unnoted && !missedThere(r.missed, g.Crop, g.Place, g.FromCM) {
			t.Errorf("%s in %s at %d cm is left out, and the rest did not miss it", g.Crop, g.Place, g.FromCM)
		}
	}
	var out bytes.Buffer
	WriteNextYear(&out, n)
	if !strings.Contains(out.String(), "Left out: planned, and the diary says nothing of it") || strings.Contains(out.String(), "by the plan") {
		t.Errorf("told as\n%s", out.String())
	}
}

// restStarted is what the rest of the plan would be planned from.
func restStarted(t *testing.T, desk *Desk) *restStart {
	t.Helper()
	s, err := desk.restStart(RestQuestion{Day: calendar.None})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// firstSown is a line that begins the plan's first planting on its day.
func firstSown(t *testing.T, desk *Desk) diary.Entry {
	t.Helper()
	planned, err := desk.Planned()
	if err != nil {
		t.Fatal(err)
	}
	for i := range planned.Year.Plantings {
		if p := &planned.Year.Plantings[i]; !p.Stands && !p.Route.Vegetative {
			return diary.Entry{Kind: diary.Sown, Day: p.Start, Place: p.Place, Crop: p.Crop.Key, Planting: season.Key(p.Crop.Key, p.Route.Key, p.Place, p.FromCM, p.Start)}
		}
	}
	t.Fatal("nothing is planned")
	return diary.Entry{}
}

func missedThere(missed []cropping.Saved, crop, place string, fromCM int) bool {
	for _, p := range missed {
		if p.Crop == crop && p.Place == place && p.FromCM == fromCM {
			return true
		}
	}
	return false
}
