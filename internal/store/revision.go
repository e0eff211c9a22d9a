package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"time"

	"haulm/internal/garden"
)

// revisionsKept is how many earlier gardens are kept; the oldest go first.
const revisionsKept = 50

// Revision is an earlier state of the garden.
type Revision struct {
	ID         int64
	ReplacedAt time.Time // when another took its place
}

// putGarden makes g, whose text is given, the garden, and keeps what it
// replaces as a revision; where text is that of the garden nothing changes.
func putGarden(ctx context.Context, tx *sql.Tx, g *garden.Garden, text string, at time.Time) (unchanged bool, err error) {
	if unchanged, err = keepRevision(ctx, tx, text, at); err != nil || unchanged {
		return unchanged, err
	}
	return false, replaceGarden(ctx, tx, g, at)
}

// keepRevision puts the garden as it stands by as a revision, unless text is
// the same.
func keepRevision(ctx context.Context, tx *sql.Tx, text string, at time.Time) (unchanged bool, err error) {
	old, err := loadGarden(ctx, tx)
	if errors.Is(err, sql.ErrNoRows) {
		return false, nil
	}
	if err != nil {
		return false, err
	}
	oldText, err := textOf(old)
	if err != nil || oldText == text {
		return err == nil, err
	}
	if _, err := tx.ExecContext(ctx, "INSERT INTO revision (replaced_at, text) VALUES (?, ?)", stamp(at), oldText); err != nil {
		return false, err
	}
	return false, keepLast(ctx, tx, "revision", revisionsKept)
}

// drop takes the rows of a key out, and says whether there were any.
func drop(ctx context.Context, tx *sql.Tx, query string, key any) (bool, error) {
	result, err := tx.ExecContext(ctx, query, key)
	if err != nil {
		return false, err
	}
	n, err := result.RowsAffected()
	return n > 0, err
}

// keepLast drops all but the last rows of a table that counts them up.
func keepLast(ctx context.Context, tx *sql.Tx, table string, rows int) error {
	_, err := tx.ExecContext(ctx, "DELETE FROM "+table+" WHERE id NOT IN (SELECT id FROM "+table+" ORDER BY id DESC LIMIT ?)", rows)
	return err
}

// Revisions lists the earlier gardens that are kept, newest first.
func (s *Store) Revisions(ctx context.Context) ([]Revision, error) {
	r := &reader{ctx: ctx, q: s.read}
	revisions := list(r, "SELECT id, replaced_at FROM revision ORDER BY id DESC",
		func(v *Revision) []any { return []any{&v.ID, moment{&v.ReplacedAt}} })
	if r.err != nil {
		return nil, fmt.Errorf("listing revisions: %w", s.explain(r.err))
	}
	return revisions, nil
}

// RevisionGarden is the garden as it was in a revision.
func (s *Store) RevisionGarden(ctx context.Context, id int64) (*garden.Garden, error) {
	var text string
	err := s.read.QueryRowContext(ctx, "SELECT text FROM revision WHERE id = ?", id).Scan(&text)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return nil, s.missing("there is no revision %d; the last %d are kept", id, revisionsKept)
	case err != nil:
		return nil, fmt.Errorf("revision %d: %w", id, s.explain(err))
	}
	g, err := garden.Parse(strings.NewReader(text))
	if err != nil {
		return nil, fmt.Errorf("revision %d: %w", id, err)
	}
	return g, nil
}

// RestoreRevision makes an earlier garden the present one again. What it
// replaces is kept as a revision in its turn, so this too can be undone. Where
// that garden was replaced by closing a year, the year is open again.
func (s *Store) RestoreRevision(ctx context.Context, id int64, at time.Time) error {
	g, err := s.RevisionGarden(ctx, id)
	if err != nil {
		return err
	}
	text, err := textOf(g)
	if err != nil {
		return err
	}
	return s.inTx(ctx, "bringing back an earlier garden", func(tx *sql.Tx) error {
		if _, err := putGarden(ctx, tx, g, text, at); err != nil {
			return err
		}
		return openYear(ctx, tx, id)
	})
}
