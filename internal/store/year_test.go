package store

import (
	"encoding/json"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/garden"
)

// Closing a year changes garden, plan and reckoning together, and going back
// to the garden before brings all three back.
func TestAYearIsClosedAndOpened(t *testing.T) {
	s := fresh(t)
	g := garden.Demo()
	must(t, s.SaveGarden(ctx, g, now))
	must(t, s.SavePlan(ctx, Plan{MadeOn: calendar.On(2027, 1, 4), Seed: 7, JSON: json.RawMessage(`{"from":"2027-01-04"}`)}, now))
	next := *g
	next.History = append(next.History[:len(next.History):len(next.History)], garden.Grown{Place: "Well bed", FromCM: 0, ToCM: 60, Crop: "leek", Year: 2027})
	end := YearEnd{Year: 2027, ClosedOn: calendar.On(2027, 12, 31), Review: json.RawMessage(`{"year":2027}`)}
	must(t, s.CloseYear(ctx, end, &next, true, now))
	ends, err := s.YearEnds(ctx)
	if err != nil || len(ends) != 1 || ends[0].Year != 2027 || string(ends[0].Review) != `{"year":2027}` {
		t.Fatalf("closed years: %+v, %v", ends, err)
	}
	if _, err := s.LoadPlan(ctx); KindOf(err) != Missing {
		t.Errorf("the closed year's plan is still the plan: %v", err)
	}
	if past, err := s.PastPlan(ctx, 2027); err != nil || past.Seed != 7 {
		t.Errorf("the plan was not put by: %+v, %v", past, err)
	}
	revisions, err := s.Revisions(ctx)
	must(t, err)
	if year, err := s.WouldOpenYear(ctx, revisions[0].ID); err != nil || year != 2027 {
		t.Errorf("going back would open %d, %v", year, err)
	}
	must(t, s.RestoreRevision(ctx, revisions[0].ID, now))
	back, err := s.LoadGarden(ctx)
	if err != nil || len(back.History) != len(g.History) {
		t.Errorf("the garden before has %d lines of history, want %d (%v)", len(back.History), len(g.History), err)
	}
	if p, err := s.LoadPlan(ctx); err != nil || p.Seed != 7 {
		t.Errorf("the plan did not come back: %+v, %v", p, err)
	}
	if ends, err := s.YearEnds(ctx); err != nil || len(ends) != 0 {
		t.Errorf("the year is still closed: %+v, %v", ends, err)
	}
	bad := next
	bad.Places = nil
	end.Year = 2028
	if err := s.CloseYear(ctx, end, &bad, true, now); err == nil {
		t.Error("a garden that is unsound began a year")
	}
	if _, err := s.LoadPlan(ctx); err != nil {
		t.Errorf("a year that was refused took the plan: %v", err)
	}
}

func TestPhonesComeAndGo(t *testing.T) {
	s := fresh(t)
	must(t, s.AddPhone(ctx, "Kitchen", "ab12", now))
	if err := s.AddPhone(ctx, "Other", "ab12", now); err == nil {
		t.Error("two phones with one token")
	}
	p, err := s.PhoneOf(ctx, "ab12")
	if err != nil || p.Name != "Kitchen" || !p.PairedAt.Equal(now) {
		t.Fatalf("phone %+v, %v", p, err)
	}
	later := now.Add(48 * 60 * 60 * 1e9)
	must(t, s.PhoneSeen(ctx, p.ID, later))
	if all, err := s.Phones(ctx); err != nil || len(all) != 1 || !all[0].SeenAt.Equal(later) {
		t.Errorf("phones %+v, %v", all, err)
	}
	must(t, s.RemovePhone(ctx, p.ID))
	if err := s.RemovePhone(ctx, p.ID); KindOf(err) != Missing {
		t.Errorf("removing a phone twice: %v", err)
	}
	if _, err := s.PhoneOf(ctx, "ab12"); KindOf(err) != Missing {
		t.Errorf("a phone that was removed: %v", err)
	}
}
