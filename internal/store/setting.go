package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
)

// Setting is the value kept under key, or "" where there is none.
func (s *Store) Setting(ctx context.Context, key string) (string, error) {
	var value string
	err := s.read.QueryRowContext(ctx, "SELECT value FROM setting WHERE key = ?", key).Scan(&value)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return "", fmt.Errorf("setting %s: %w", key, s.explain(err))
	}
	return value, nil
}

// SetSetting keeps value under key; "" forgets it.
func (s *Store) SetSetting(ctx context.Context, key, value string) error {
	return s.inTx(ctx, "setting "+key, func(tx *sql.Tx) error {
		if value == "" {
			_, err := tx.ExecContext(ctx, "DELETE FROM setting WHERE key = ?", key)
			return err
		}
		_, err := tx.ExecContext(ctx, "INSERT OR REPLACE INTO setting VALUES (?, ?)", key, value)
		return err
	})
}
