package store

import (
	"context"
	"errors"
	"io/fs"
	"os"
)

// backup copies the whole garden file, as it stands, to a new file at path. An
// existing file is refused.
func (s *Store) backup(ctx context.Context, path string) error {
	if _, err := os.Lstat(path); !errors.Is(err, fs.ErrNotExist) {
		return &Error{Exists, path, "there is a file already; give the backup another name", nil}
	}
	if _, err := s.write.ExecContext(ctx, "VACUUM INTO ?", path); err != nil {
		_ = os.Remove(path) // it was not there before
		return &Error{Unusable, path, "the backup could not be written; nothing is lost, choose another folder or make room", err}
	}
	if err := os.Chmod(path, 0o600); err != nil {
		return &Error{Unusable, path, "the backup was written, but may be read by others; change who may read it", err}
	}
	return nil
}
