package store

import (
	"context"
	"fmt"
)

// WrittenElsewhere is a number that another program's writing to the file
// changes, and our own does not. It is SQLite's data_version as the one
// writing connection sees it.
func (s *Store) WrittenElsewhere(ctx context.Context) (int64, error) {
	var version int64
	if err := s.write.QueryRowContext(ctx, "PRAGMA data_version").Scan(&version); err != nil {
		return 0, fmt.Errorf("asking %s whether it was written to: %w", s.path, err)
	}
	return version, nil
}
