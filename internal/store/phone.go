package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"
)

// Phone is one that may open the pages in the home network.
type Phone struct {
	ID       int64
	Name     string
	PairedAt time.Time
	SeenAt   time.Time
}

// AddPhone keeps a phone under the SHA-256 of its token, as hexadecimal
// digits. The token itself is kept nowhere.
func (s *Store) AddPhone(ctx context.Context, name, tokenHash string, at time.Time) error {
	return s.inTx(ctx, "pairing a phone", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, "INSERT INTO phone (name, token_sha256, paired_at, seen_at) VALUES (?, ?, ?, ?)", name, tokenHash, stamp(at), stamp(at))
		return err
	})
}

// PhoneOf is the phone with a token of that hash; an Error of kind Missing
// where there is none.
func (s *Store) PhoneOf(ctx context.Context, tokenHash string) (Phone, error) {
	var p Phone
	err := s.read.QueryRowContext(ctx, "SELECT id, name, paired_at, seen_at FROM phone WHERE token_sha256 = ?", tokenHash).Scan(p.fields()...)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return p, s.missing("no phone is paired by that token")
	case err != nil:
		return p, fmt.Errorf("looking for a phone: %w", s.explain(err))
	}
	return p, nil
}

func (p *Phone) fields() []any {
	return []any{&p.ID, &p.Name, moment{&p.PairedAt}, moment{&p.SeenAt}}
}

// PhoneSeen notes when a phone last opened a page.
func (s *Store) PhoneSeen(ctx context.Context, id int64, at time.Time) error {
	return s.inTx(ctx, "noting a phone", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, "UPDATE phone SET seen_at = ? WHERE id = ?", stamp(at), id)
		return err
	})
}

// Phones lists those that are paired, in the order in which they were.
func (s *Store) Phones(ctx context.Context) ([]Phone, error) {
	r := &reader{ctx: ctx, q: s.read}
	phones := list(r, "SELECT id, name, paired_at, seen_at FROM phone ORDER BY id", (*Phone).fields)
	if r.err != nil {
		return nil, fmt.Errorf("listing phones: %w", s.explain(r.err))
	}
	return phones, nil
}

// RemovePhone takes a phone's leave away.
func (s *Store) RemovePhone(ctx context.Context, id int64) error {
	return s.inTx(ctx, "removing a phone", func(tx *sql.Tx) error {
		dropped, err := drop(ctx, tx, "DELETE FROM phone WHERE id = ?", id)
		if err != nil || dropped {
			return err
		}
		return s.missing("no phone has number %d; it may be removed already", id)
	})
}
