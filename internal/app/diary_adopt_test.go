package app

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/cropping"
	"haulm/internal/diary"
	"haulm/internal/season"
)

// elsewhere is a diary from another file: a planting of this plan begun some days
// later and set elsewhere along its bed by the other file's plan, one that this
// plan does not have, and one that no line begins.
func elsewhere(p cropping.Saved) (table fstest.MapFS, counts, alone, nothing string) {
	counts = season.Key(p.Crop, p.Route, p.Place, p.FromCM+15, p.Start.Add(7))
	alone = season.Key("okra", "pot", p.Place, 0, p.Start)
	nothing = season.Key("swede", "module", p.Place, 0, p.Start)
	rows := "line,day,what,crop,place,planting\n"
	for i, row := range []struct {
		after    int
		what     diary.Kind
		crop, of string
	}{
		{5, diary.Sown, p.Crop, counts}, {18, diary.Up, p.Crop, counts}, {3, diary.Sown, "okra", alone}, {14, diary.Up, "okra", alone}, {20, diary.Weeded, "swede", nothing},
	} {
		rows += fmt.Sprintf("%d,%s,%s,%s,%s,%s\n", 70+i, p.Start.Add(row.after), row.what, row.crop, p.Place, row.of)
	}
	return fstest.MapFS{"diary.csv": {Data: []byte(rows)}}, counts, alone, nothing
}

// raisedInSpring is a planting of the plan that is sown under cover in spring.
func raisedInSpring(t *testing.T, saved savedPlan) cropping.Saved {
	t.Helper()
	for _, p := range saved.Plantings {
		cr := testCatalogue(t).Crop(p.Crop)
		route, err := cr.Route(p.Route)
		if err == nil && route.Raised && p.Start > calendar.On(2027, 2, 20) && p.Start < calendar.On(2027, 4, 20) {
			return p
		}
	}
	t.Fatal("the plan raises nothing in spring")
	return cropping.Saved{}
}

// Deeds of another file's plan count for this one's planting where crop, way of
// raising, place and time fit, whether they are read in before there is a plan
// or after; what fits none stands by itself.
func TestDeedsFromAnotherFileCountForThePlan(t *testing.T) {
	saved, err := restPlan()
	if err != nil {
		t.Fatal(err)
	}
	p := raisedInSpring(t, saved)
	table, counts, alone, nothing := elsewhere(p)
	day := time.Date(2027, 5, 20, 7, 0, 0, 0, time.UTC)

	desk := emptyDesk(t, day)
	if err := desk.SaveGarden(restDesk(t, day).garden); err != nil {
		t.Fatal(err)
	}
	read, err := readFrom(t, desk, table, "diary.csv")
	if err != nil || read.Added != 5 || !strings.Contains(strings.Join(read.Notes, " "), "there is no plan yet (one made later counts what it has of that crop") {
		t.Fatalf("read without a plan: %+v, %v", read, err)
	}
	if s := morningOf(t, desk); standingOf(s, counts) == nil || standingOf(s, alone) == nil || standingOf(s, nothing) != nil {
		t.Errorf("without a plan, what was begun does not stand by itself: %+v", s.Plantings)
	}
	if err := desk.keepText(saved, 1); err != nil {
		t.Fatal(err)
	}
	desk.planned = nil
	checkAdopted(t, desk, p, counts, alone)

	second := savedDesk(t, saved, day)
	if read, err = readFrom(t, second, table, "diary.csv"); err != nil {
		t.Fatal(err)
	}
	told := strings.Join(read.Notes, "\n")
	for _, want := range []string{
		"1 planting of the file counts for this garden's plan: ", "1 planting of the file stands by itself, since the plan has none of that crop", "Okra, ",
		"1 planting of the file is kept in the diary and counts for nothing else, since no line begins it", "Swede, ",
	} {
		if !strings.Contains(told, want) {
			t.Errorf("told %q, want %q", told, want)
		}
	}
	checkAdopted(t, second, p, counts, alone)
	if read, err = readFrom(t, second, table, "diary.csv"); err != nil || read.Added != 0 || len(read.Notes) > 0 {
		t.Errorf("read twice: %+v, %v", read, err)
	}
}

func morningOf(t *testing.T, desk *Desk) *season.State {
	t.Helper()
	s, err := desk.Morning(TodayQuestion{Day: calendar.None})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func checkAdopted(t *testing.T, desk *Desk, p cropping.Saved, counts, alone string) {
	t.Helper()
	s := morningOf(t, desk)
	own := standingOf(s, savedKey(p))
	if own == nil || own.Begun != p.Start.Add(5) || own.Stage == season.Waiting {
		t.Errorf("%s was sown on %s by the other file's diary, and stands as %+v", savedKey(p), p.Start.Add(5), own)
	}
	if standingOf(s, counts) != nil {
		t.Errorf("%s stands beside what it counts as", counts)
	}
	if by := standingOf(s, alone); by == nil || by.Route.Key != "pot" || !by.Begun.Known() {
		t.Errorf("okra stands as %+v", by)
	}
	for _, e := range diaryOf(t, desk) {
		if e.Planting == savedKey(p) {
			t.Errorf("the line was altered: %+v", e)
		}
	}
}

// Old plans of the same file are no other file's: what they began is over, or
// stands in the garden's own list.
func TestAnEarlierPlansPlantingsAreNotAdopted(t *testing.T) {
	day := time.Date(2027, 5, 20, 7, 0, 0, 0, time.UTC)
	saved, err := restPlan()
	if err != nil {
		t.Fatal(err)
	}
	p := raisedInSpring(t, saved)
	desk := savedDesk(t, saved, day)
	if _, err := desk.NoteEntry(diary.Entry{Kind: diary.Sown, Day: p.Start, Place: p.Place, Crop: p.Crop, Planting: savedKey(p)}); err != nil {
		t.Fatal(err)
	}
	other := saved
	other.Plantings = nil
	if err := desk.keepText(other, 2); err != nil {
		t.Fatal(err)
	}
	desk.planned = nil
	if found := standingOf(morningOf(t, desk), savedKey(p)); found != nil {
		t.Errorf("a planting of the plan before stands as %+v", found)
	}
}
