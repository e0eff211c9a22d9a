package app

import (
	"strings"
	"testing"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/cropping"
	"haulm/internal/diary"
	"haulm/internal/season"
)

// One click enters an offer as a planting of the plan, which is then asked for
// like any other; one more takes it back.
func TestAnOfferIsEnteredAndTakenBack(t *testing.T) {
	desk := keptDesk(t, time.Date(2027, 6, 23, 7, 0, 0, 0, time.UTC))
	if err := desk.take(desk.planned); err != nil {
		t.Fatal(err)
	}
	t.Run("what cannot be", func(t *testing.T) { enteringSaysWhatIsWrong(t, desk) })
	q, answer, offer := clearedEarly(t, desk)
	place := q.Place
	before, err := desk.planText()
	if err != nil {
		t.Fatal(err)
	}
	entered, err := desk.EnterOffer(EnterQuestion{Fill: q, Crop: offer.CropKey, Route: offer.RouteKey, Class: offer.Class})
	if err != nil {
		t.Fatal(err)
	}
	state, err := desk.Morning(TodayQuestion{Day: calendar.None})
	if err != nil {
		t.Fatal(err)
	}
	p := standingOf(state, entered.Key)
	if p == nil || p.FromCM > answer.Gap.FromCM+15 || p.ToCM < answer.Gap.ToCM-30 || p.Class != offer.Class {
		t.Fatalf("%s is not among what is planned on %v: %+v", entered.Key, answer.Gap, p)
	}
	asked := false
	for i := range state.Jobs {
		asked = asked || state.Jobs[i].Key == entered.Key && state.Jobs[i].Due == state.Today
	}
	if !asked {
		t.Errorf("nobody asks for %s today", offer.Name)
	}
	if again, err := desk.Fill(q); err == nil && !again.Gap.Until.Known() {
		t.Errorf("%s is still told as free: %+v", place, again.Gap)
	}
	words, err := desk.UndoEnter()
	if err != nil || !strings.Contains(words, offer.Name+", "+place+", is out of the plan again") || strings.Contains(words, "is in the plan") {
		t.Fatalf("undo: %q, %v", words, err)
	}
	if after, err := desk.planText(); err != nil || string(after) != string(before) {
		t.Errorf("the plan is not as it was: %v", err)
	}
	if _, err := desk.UndoEnter(); err == nil {
		t.Error("what was taken back is taken back again")
	}
}

// What is lost in the week in which it goes out, or before, leaves its ground at
// once: what is offered for it can be taken.
func TestTheGroundOfWhatIsLostAsItGoesOutIsTaken(t *testing.T) {
	desk := keptDesk(t, time.Date(2027, 5, 13, 7, 0, 0, 0, time.UTC))
	if err := desk.take(desk.planned); err != nil {
		t.Fatal(err)
	}
	taken := 0
	for _, p := range desk.planned.Year.Plantings {
		if p.Stands || !p.Route.Raised || p.Start >= desk.Today() || p.SetOut.Add(7) <= desk.Today() {
			continue
		}
		key := season.Key(p.Crop.Key, p.Route.Key, p.Place, p.FromCM, p.Start)
		for _, e := range []diary.Entry{{Kind: diary.Sown, Day: p.Start}, {Kind: diary.Lost, Day: desk.Today(), Cause: "frost"}} {
			e.Crop, e.Place, e.Planting = p.Crop.Key, p.Place, key
			if _, err := desk.NoteEntry(e); err != nil {
				t.Fatal(err)
			}
		}
		q := FillQuestion{Place: p.Place, FromCM: p.FromCM, ToCM: p.ToCM}
		answer, err := desk.Fill(q)
		if err != nil || len(answer.Offers) == 0 {
			continue
		}
		o := answer.Offers[0]
		if _, err := desk.EnterOffer(EnterQuestion{Fill: q, Crop: o.CropKey, Route: o.RouteKey, Class: o.Class}); err != nil {
			t.Errorf("%s where %s was lost: %v", o.Name, p.Crop.Name, err)
		}
		taken++
	}
	if taken == 0 {
		t.Error("nothing was to go out and could be replaced, so this shows nothing")
	}
}

// What cannot be, is said, and changes nothing.
func enteringSaysWhatIsWrong(t *testing.T, desk *Desk) {
	t.Helper()
	for want, q := range map[string]EnterQuestion{
		"no place is called": {Fill: FillQuestion{Place: "Orchard"}, Crop: "turnip"},
		"is not among":       {Fill: FillQuestion{Place: "Yard pots", FromCM: 250, ToCM: 300}, Crop: "moonfruit"},
	} {
		if _, err := desk.EnterOffer(q); err == nil || !strings.Contains(err.Error(), want) && !strings.Contains(err.Error(), "stands there") && !strings.Contains(err.Error(), "wanted for") {
			t.Errorf("got %v, want a word on %q", err, want)
		}
	}
}

// clearedEarly makes a gap by clearing what the plan has growing, and gives the
// first offer for it that can be sown.
func clearedEarly(t *testing.T, desk *Desk) (FillQuestion, *FillAnswer, season.Offer) {
	t.Helper()
	state, err := desk.Morning(TodayQuestion{Day: calendar.None})
	if err != nil {
		t.Fatal(err)
	}
	for i := range state.Plantings {
		p := &state.Plantings[i]
		if p.Stands || p.Route.Raised || p.Start > desk.Today().Add(-40) || p.Clear < desk.Today().Add(40) || p.ToCM-p.FromCM < 40 {
			continue
		}
		for _, e := range []diary.Entry{{Kind: diary.Sown, Day: p.Start}, {Kind: diary.Cleared, Day: desk.Today().Add(-1)}} {
			e.Crop, e.Place, e.Planting = p.Crop.Key, p.Place.Name, p.Key
			if _, err := desk.NoteEntry(e); err != nil {
				t.Fatal(err)
			}
		}
		q := FillQuestion{Place: p.Place.Name, FromCM: p.FromCM, ToCM: p.ToCM}
		answer, err := desk.Fill(q)
		if err != nil {
			continue
		}
		for _, o := range answer.Offers {
			if !o.Ready {
				return q, answer, o
			}
		}
	}
	t.Fatal("nothing can be sown where a planting of the plan was cleared early")
	return FillQuestion{}, nil, season.Offer{}
}

// Rows end before the planner's strips do. What is offered for a row that was lost
// goes on all of the ground that the row had, and what is offered for the longest
// free stretch keeps off the bare end of what stands.
func TestWhatIsOfferedBetweenRowsCanBeTaken(t *testing.T) {
	row := cropping.Saved{Crop: "lettuce_head", Class: "mid", Route: "module", Place: "Long bed", FromCM: 600, ToCM: 650, Start: calendar.On(2027, 4, 19)}
	wide := cropping.Saved{Crop: "french_bean_climbing", Class: "mid", Route: "station", Place: "Gate bed", FromCM: 325, ToCM: 425, Start: calendar.On(2027, 5, 17)}
	plan := savedPlan{From: calendar.On(2027, 1, 4), Plantings: []cropping.Saved{row, wide}}
	desk := savedDesk(t, plan, time.Date(2027, 6, 10, 7, 0, 0, 0, time.UTC))
	noteSpring(t, desk)
	if _, err := desk.NoteEntry(diary.Entry{Kind: diary.Lost, Day: desk.Today(), Crop: row.Crop, Place: row.Place, Planting: savedKey(row)}); err != nil {
		t.Fatal(err)
	}
	planned, err := desk.Planned()
	if err != nil {
		t.Fatal(err)
	}
	ends := map[string]int{}
	for i := range planned.Year.Plantings {
		p := &planned.Year.Plantings[i]
		ends[savedKeyOf(p)] = p.ToCM
	}
	if len(planned.Unfit) > 0 || ends[savedKey(row)] > 640 || ends[savedKey(wide)] > 402 {
		t.Fatalf("rows end at %v, unfit %+v: this shows nothing", ends, planned.Unfit)
	}
	for _, q := range []FillQuestion{{Place: row.Place, FromCM: row.FromCM, ToCM: ends[savedKey(row)]}, {Place: wide.Place}, {Place: wide.Place, FromCM: ends[savedKey(wide)] + 1, ToCM: 500}} {
		answer, err := desk.Fill(q)
		if err != nil || len(answer.Offers) == 0 {
			t.Fatalf("%+v: %v", q, err)
		}
		for _, o := range answer.Offers {
			if _, err := desk.EnterOffer(EnterQuestion{Fill: q, Crop: o.CropKey, Route: o.RouteKey, Class: o.Class}); err != nil {
				t.Errorf("%s: %v", o.Name, err)
				continue
			}
			if _, err := desk.UndoEnter(); err != nil {
				t.Fatal(err)
			}
		}
	}
}

func savedKeyOf(p *cropping.Planting) string {
	return season.Key(p.Crop.Key, p.Route.Key, p.Place, p.FromCM, p.Start)
}
