package store

import (
	"encoding/json"
	"testing"

	"haulm/internal/calendar"
)

// Each plan that another takes the place of comes back, the latest first.
func TestEarlierPlansComeBack(t *testing.T) {
	s := fresh(t)
	if err := s.UndoPlan(ctx); KindOf(err) != Missing {
		t.Errorf("going back from no plan: %v", err)
	}
	for _, text := range []string{"1", "2", "3"} {
		must(t, s.SavePlan(ctx, Plan{MadeOn: calendar.On(2027, 1, 4), JSON: json.RawMessage(text)}, now))
	}
	for _, want := range []string{"2", "1"} {
		must(t, s.UndoPlan(ctx))
		if p, err := s.LoadPlan(ctx); err != nil || string(p.JSON) != want {
			t.Errorf("back at plan %s, %v, want %s", p.JSON, err, want)
		}
	}
	if n, err := s.EarlierPlans(ctx); n != 0 || err != nil {
		t.Errorf("%d earlier plans are left, %v", n, err)
	}
	if err := s.UndoPlan(ctx); KindOf(err) != Missing {
		t.Errorf("going back from the first plan: %v", err)
	}
}

func TestNoMoreThanSoManyEarlierPlansAreKept(t *testing.T) {
	s := fresh(t)
	for range plansKept + 3 {
		must(t, s.SavePlan(ctx, Plan{MadeOn: calendar.On(2027, 1, 4), JSON: json.RawMessage("1")}, now))
	}
	if n, err := s.EarlierPlans(ctx); n != plansKept || err != nil {
		t.Errorf("%d earlier plans are kept, %v", n, err)
	}
}

func TestAProposalWaitsUntilItIsDropped(t *testing.T) {
	s := fresh(t)
	if _, err := s.LoadProposal(ctx); KindOf(err) != Missing {
		t.Errorf("none waits: %v", err)
	}
	must(t, s.SaveProposal(ctx, calendar.On(2027, 6, 1), json.RawMessage("1")))
	must(t, s.SaveProposal(ctx, calendar.On(2027, 6, 2), json.RawMessage("2")))
	if text, err := s.LoadProposal(ctx); err != nil || string(text) != "2" {
		t.Errorf("%s waits, %v", text, err)
	}
	if err := s.SaveProposal(ctx, calendar.On(2027, 6, 2), json.RawMessage("{")); err == nil {
		t.Error("half a text was kept")
	}
	must(t, s.SaveProposal(ctx, calendar.On(2027, 6, 2), nil))
	if _, err := s.LoadProposal(ctx); KindOf(err) != Missing {
		t.Errorf("dropped: %v", err)
	}
}
