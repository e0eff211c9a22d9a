package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"haulm/internal/calendar"
)

// Plan is the last plan made for the garden, as its maker wrote it.
type Plan struct {
	MadeOn      calendar.Date
	Seed        int64  // with the problem, makes the same plan again
	ProblemHash string // tells whether garden or weather changed since
	JSON        json.RawMessage
}

// fields are where made_on, seed, problem_hash and json are read into.
func (p *Plan) fields() []any {
	return []any{day{&p.MadeOn}, &p.Seed, &p.ProblemHash, (*[]byte)(&p.JSON)}
}

// plansKept is how many earlier plans are kept; the oldest go first.
const plansKept = 30

// SavePlan keeps p in place of the plan before it, which stays as an earlier
// plan; at is the time now.
func (s *Store) SavePlan(ctx context.Context, p Plan, at time.Time) error {
	if !json.Valid(p.JSON) {
		return errors.New("saving the plan: it is not JSON")
	}
	if !p.MadeOn.Known() {
		return errors.New("saving the plan: the day it was made is missing")
	}
	return s.inTx(ctx, "saving the plan", func(tx *sql.Tx) error {
		if err := keepPlan(ctx, tx, at); err != nil {
			return err
		}
		return putPlan(ctx, tx, p)
	})
}

func putPlan(ctx context.Context, tx *sql.Tx, p Plan) error {
	_, err := tx.ExecContext(ctx, "INSERT OR REPLACE INTO plan VALUES (1, ?, ?, ?, ?)",
		p.MadeOn.String(), p.Seed, p.ProblemHash, string(p.JSON))
	return err
}

// keepPlan puts the present plan, if there is one, among the earlier ones.
func keepPlan(ctx context.Context, tx *sql.Tx, at time.Time) error {
	if _, err := tx.ExecContext(ctx, "INSERT INTO plan_earlier (replaced_at, made_on, seed, problem_hash, json) SELECT ?, made_on, seed, problem_hash, json FROM plan", stamp(at)); err != nil {
		return err
	}
	return keepLast(ctx, tx, "plan_earlier", plansKept)
}

// EarlierPlans is how many plans are kept that others took the place of.
func (s *Store) EarlierPlans(ctx context.Context) (int, error) {
	n := 0
	if err := s.read.QueryRowContext(ctx, "SELECT count(*) FROM plan_earlier").Scan(&n); err != nil {
		return 0, fmt.Errorf("counting the earlier plans: %w", s.explain(err))
	}
	return n, nil
}

// UndoPlan brings back the plan that the present one took the place of; what
// it replaces is dropped. An Error of kind Missing when none is kept.
func (s *Store) UndoPlan(ctx context.Context) error {
	var none bool
	err := s.inTx(ctx, "bringing back the plan before", func(tx *sql.Tx) error {
		var p Plan
		var id int64
		err := tx.QueryRowContext(ctx, "SELECT made_on, seed, problem_hash, json, id FROM plan_earlier ORDER BY id DESC LIMIT 1").Scan(append(p.fields(), &id)...)
		if none = errors.Is(err, sql.ErrNoRows); err != nil {
			return err
		}
		if err := putPlan(ctx, tx, p); err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, "DELETE FROM plan_earlier WHERE id = ?", id)
		return err
	})
	if none {
		return s.missing("there is no earlier plan to go back to")
	}
	return err
}

// SaveProposal keeps a plan that was shown and not accepted yet, in place of
// any before it; no text drops it.
func (s *Store) SaveProposal(ctx context.Context, madeOn calendar.Date, text json.RawMessage) error {
	if len(text) > 0 && !json.Valid(text) {
		return errors.New("saving the proposal: it is not JSON")
	}
	return s.inTx(ctx, "saving the proposal", func(tx *sql.Tx) error {
		if len(text) == 0 {
			_, err := tx.ExecContext(ctx, "DELETE FROM plan_proposal")
			return err
		}
		_, err := tx.ExecContext(ctx, "INSERT OR REPLACE INTO plan_proposal VALUES (1, ?, ?)", madeOn.String(), string(text))
		return err
	})
}

// LoadProposal reads the plan that waits to be accepted; an Error of kind
// Missing when none does.
func (s *Store) LoadProposal(ctx context.Context) (json.RawMessage, error) {
	var text json.RawMessage
	err := s.read.QueryRowContext(ctx, "SELECT json FROM plan_proposal").Scan((*[]byte)(&text))
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return nil, s.missing("no change to the plan waits to be accepted")
	case err != nil:
		return nil, fmt.Errorf("reading the proposal: %w", s.explain(err))
	}
	return text, nil
}

// LoadPlan reads the last plan; an Error of kind Missing when none was made.
func (s *Store) LoadPlan(ctx context.Context) (Plan, error) {
	var p Plan
	err := s.read.QueryRowContext(ctx, "SELECT made_on, seed, problem_hash, json FROM plan").Scan(p.fields()...)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return Plan{}, s.missing("no plan has been made yet; make one with haulm plan")
	case err != nil:
		return Plan{}, fmt.Errorf("reading the plan: %w", s.explain(err))
	}
	return p, nil
}
