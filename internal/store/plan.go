package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"

	"haulm/internal/calendar"
)

// Plan is the last plan made for the garden, as its maker wrote it.
type Plan struct {
	MadeOn      calendar.Date
	Seed        int64  // with the problem, makes the same plan again
	ProblemHash string // tells whether garden or weather changed since
	JSON        json.RawMessage
}

// SavePlan keeps p in place of the plan before it.
func (s *Store) SavePlan(ctx context.Context, p Plan) error {
	if !json.Valid(p.JSON) {
		return errors.New("saving the plan: it is not JSON")
	}
	if !p.MadeOn.Known() {
		return errors.New("saving the plan: the day it was made is missing")
	}
	return s.inTx(ctx, "saving the plan", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, "INSERT OR REPLACE INTO plan VALUES (1, ?, ?, ?, ?)",
			p.MadeOn.String(), p.Seed, p.ProblemHash, string(p.JSON))
		return err
	})
}

// LoadPlan reads the last plan; an Error of kind Missing when none was made.
func (s *Store) LoadPlan(ctx context.Context) (Plan, error) {
	var p Plan
	var text string
	err := s.read.QueryRowContext(ctx, "SELECT made_on, seed, problem_hash, json FROM plan").Scan(
		day{&p.MadeOn}, &p.Seed, &p.ProblemHash, &text)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return Plan{}, s.missing("no plan has been made yet; make one with haulm plan")
	case err != nil:
		return Plan{}, fmt.Errorf("reading the plan: %w", s.explain(err))
	}
	p.JSON = json.RawMessage(text)
	return p, nil
}
