package app

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/diary"
	"haulm/internal/season"
)

// Before the season nothing is due for weeks; then a morning says what comes
// first, and when.
func TestAnEmptyMorningSaysWhatComesNext(t *testing.T) {
	desk := keptDesk(t, time.Date(2026, 11, 29, 8, 0, 0, 0, time.UTC))
	morning, err := desk.Morning(TodayQuestion{})
	if err != nil {
		t.Fatal(err)
	}
	morning.Jobs = nil // what stands in the demonstration may ask for something
	first := calendar.None
	for i := range morning.Plantings {
		if p := &morning.Plantings[i]; p.Stage == season.Waiting && (!first.Known() || p.Start < first) {
			first = p.Start
		}
	}
	if words := NextWords(morning); !strings.Contains(words, "to be begun on "+first.Format("2 January 2006")) {
		t.Errorf("%q, want %s", words, first)
	}
	var out bytes.Buffer
	WriteMorning(&out, morning, true)
	if !strings.Contains(out.String(), "Next in the plan: ") || strings.Contains(out.String(), "Not today") {
		t.Errorf("an empty morning:\n%s", &out)
	}
	morning.Jobs = []season.Job{{Due: morning.Today}}
	if words := NextWords(morning); words != "" {
		t.Errorf("beside a job of today: %q", words)
	}
}

// What was sown indoors waits until a line sets it out.
func TestWhatIsSownIndoorsWaitsToBeSetOut(t *testing.T) {
	desk := keptDesk(t, time.Date(2027, 5, 15, 8, 0, 0, 0, time.UTC))
	planned, err := desk.Planned()
	if err != nil {
		t.Fatal(err)
	}
	var crop, place string
	for i := range planned.Year.Plantings {
		if p := &planned.Year.Plantings[i]; !p.Stands && p.Route.Raised && p.Start < desk.Today() {
			crop, place = p.Crop.Key, p.Place
			break
		}
	}
	waits := func() int {
		t.Helper()
		c, err := desk.DiaryContext()
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for _, s := range c.Standing {
			if s.Crop == crop && s.Place == place && s.Indoors {
				n++
			}
		}
		return n
	}
	note := func(kind diary.Kind, day calendar.Date) {
		t.Helper()
		if _, err := desk.NoteEntry(diary.Entry{Kind: kind, Day: day, Crop: crop, Place: place, Planting: keyOf(t, desk, crop, place)}); err != nil {
			t.Fatal(err)
		}
	}
	if n := waits(); n != 0 {
		t.Fatalf("%d wait before anything is sown", n)
	}
	note(diary.Sown, calendar.On(2027, 3, 20))
	if n := waits(); n != 1 {
		t.Fatalf("%d wait once one is sown", n)
	}
	note(diary.Planted, calendar.On(2027, 5, 10))
	if n := waits(); n != 0 {
		t.Errorf("%d wait once it is set out", n)
	}
}

// keyOf is the first planting of a crop in a place.
func keyOf(t *testing.T, desk *Desk, crop, place string) string {
	t.Helper()
	c, err := desk.DiaryContext()
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range c.Standing {
		if s.Crop == crop && s.Place == place {
			return s.Key
		}
	}
	t.Fatalf("no %s in %s", crop, place)
	return ""
}
