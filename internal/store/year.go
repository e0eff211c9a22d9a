package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/garden"
)

// YearEnd is a year that was closed.
type YearEnd struct {
	Year     int
	ClosedOn calendar.Date
	Review   json.RawMessage // its reckoning, as its maker wrote it
}

// PutPlanBy copies the plan to the past plans, as that of a season year. It
// does nothing where there is no plan.
func (s *Store) PutPlanBy(ctx context.Context, year int) error {
	return s.inTx(ctx, "putting the plan by", func(tx *sql.Tx) error { return putPlanBy(ctx, tx, year) })
}

func putPlanBy(ctx context.Context, tx *sql.Tx, year int) error {
	_, err := tx.ExecContext(ctx, "INSERT OR REPLACE INTO past_plan SELECT ?, made_on, seed, problem_hash, json FROM plan", year)
	return err
}

// PastPlan is the plan of an earlier season year; an Error of kind Missing
// where none was put by.
func (s *Store) PastPlan(ctx context.Context, year int) (Plan, error) {
	var p Plan
	err := s.read.QueryRowContext(ctx, "SELECT made_on, seed, problem_hash, json FROM past_plan WHERE year = ?", year).Scan(p.fields()...)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return Plan{}, s.missing("no plan of %d is kept", year)
	case err != nil:
		return Plan{}, fmt.Errorf("reading the plan of %d: %w", year, s.explain(err))
	}
	return p, nil
}

// CloseYear makes g the garden, keeps a year's reckoning, and puts its plan by
// where that is asked for: all of it or nothing. Going back to the garden
// before it, see RestoreRevision, undoes all of it.
func (s *Store) CloseYear(ctx context.Context, end YearEnd, g *garden.Garden, takePlan bool, at time.Time) error {
	if err := garden.Check(g); err != nil {
		return err
	}
	if !json.Valid(end.Review) {
		return errors.New("closing the year: its reckoning is not JSON")
	}
	text, err := textOf(g)
	if err != nil {
		return err
	}
	return s.inTx(ctx, fmt.Sprintf("closing %d", end.Year), func(tx *sql.Tx) error {
		unchanged, err := putGarden(ctx, tx, g, text, at)
		if err != nil {
			return err
		}
		revision := 0
		if !unchanged {
			if err := tx.QueryRowContext(ctx, "SELECT max(id) FROM revision").Scan(&revision); err != nil {
				return err
			}
		}
		if takePlan {
			if err := putPlanBy(ctx, tx, end.Year); err != nil {
				return err
			}
			if _, err := tx.ExecContext(ctx, "DELETE FROM plan"); err != nil {
				return err
			}
		}
		_, err = tx.ExecContext(ctx, "INSERT OR REPLACE INTO year_end VALUES (?, ?, ?, ?, ?)", end.Year, end.ClosedOn.String(), revision, takePlan, string(end.Review))
		return err
	})
}

// openYear opens the year again that was closed when a revision's garden was
// replaced, and brings its plan back.
func openYear(ctx context.Context, tx *sql.Tx, revision int64) error {
	var year int
	var tookPlan bool
	err := tx.QueryRowContext(ctx, "SELECT year, took_plan FROM year_end WHERE revision = ?", revision).Scan(&year, &tookPlan)
	if errors.Is(err, sql.ErrNoRows) {
		return nil
	}
	if err != nil {
		return err
	}
	if tookPlan {
		for _, query := range []string{
			"INSERT OR REPLACE INTO plan SELECT 1, made_on, seed, problem_hash, json FROM past_plan WHERE year = ?",
			"DELETE FROM past_plan WHERE year = ?",
		} {
			if _, err := tx.ExecContext(ctx, query, year); err != nil {
				return err
			}
		}
	}
	_, err = tx.ExecContext(ctx, "DELETE FROM year_end WHERE year = ?", year)
	return err
}

// YearEnds lists the years that were closed, the latest first.
func (s *Store) YearEnds(ctx context.Context) ([]YearEnd, error) {
	r := &reader{ctx: ctx, q: s.read}
	ends := list(r, "SELECT year, closed_on, review FROM year_end ORDER BY year DESC",
		func(e *YearEnd) []any { return []any{&e.Year, day{&e.ClosedOn}, (*[]byte)(&e.Review)} })
	if r.err != nil {
		return nil, fmt.Errorf("reading the closed years: %w", s.explain(r.err))
	}
	return ends, nil
}

// WouldOpenYear says which closed year going back to a revision opens again; 0
// for none.
func (s *Store) WouldOpenYear(ctx context.Context, revision int64) (int, error) {
	var year int
	err := s.read.QueryRowContext(ctx, "SELECT year FROM year_end WHERE revision = ?", revision).Scan(&year)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return 0, fmt.Errorf("reading the closed years: %w", s.explain(err))
	}
	return year, nil
}
