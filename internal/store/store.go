package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"strings"

	_ "modernc.org/sqlite" // the driver "sqlite"
)

// readers is how many pages may read at once; writing waits its turn.
const readers = 4

// Store is an open garden file. Its methods may be called from several
// goroutines, and the same file may be open in several programs: a writer
// waits up to ten seconds for another.
type Store struct {
	path  string
	write *sql.DB // one connection
	read  *sql.DB // a few, which cannot write
}

// Path is where the file lies.
func (s *Store) Path() string { return s.path }

// Open opens an existing garden file. It looks before it touches: see Error
// for what is refused. A file from an older Haulm is first copied beside
// itself, then brought up to date.
func Open(path string) (*Store, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return nil, &Error{Unusable, path, "its path cannot be read; give another", err}
	}
	if err := inspect(path); err != nil {
		return nil, err
	}
	return connect(path)
}

// Create makes a new garden file with nothing in it, and its folder if need
// be. An existing file of any kind is refused.
func Create(path string) (*Store, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return nil, &Error{Unusable, path, "its path cannot be read; give another", err}
	}
	if err := claim(path); err != nil {
		return nil, err
	}
	s, err := begin(path)
	if err != nil {
		_ = remove(path) // the claim is ours, and nothing is in it
		return nil, err
	}
	return s, nil
}

// claim makes an empty file that was not there before.
func claim(path string) error {
	folder := filepath.Dir(path)
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return folderError(path, err)
	}
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	switch {
	case errors.Is(err, fs.ErrExist):
		return &Error{Exists, path, "there is a file already; open it, or choose another name", nil}
	case err != nil:
		return folderError(path, err)
	}
	return f.Close()
}

// begin marks the empty file as Haulm's. The mark is made before the file
// turns to write-ahead logging, so that it stands in the file itself.
func begin(path string) (*Store, error) {
	db, err := sql.Open("sqlite", dsn(path, "mode=rw"))
	if err != nil {
		return nil, &Error{Unusable, path, "it cannot be made", err}
	}
	_, err = db.Exec(fmt.Sprintf("PRAGMA application_id = %d", applicationID))
	if err := errors.Join(err, db.Close()); err != nil {
		return nil, &Error{Unusable, path, "it cannot be made; is the disk full?", err}
	}
	return connect(path)
}

// connect opens both pools on a file that was looked at, and migrates it.
func connect(path string) (*Store, error) {
	s := &Store{path: path}
	var err error
	s.write, err = sql.Open("sqlite", dsn(path, "mode=rw", "_txlock=immediate",
		"_pragma=busy_timeout(10000)", "_pragma=journal_mode(WAL)", "_pragma=synchronous(FULL)",
		"_pragma=foreign_keys(1)", "_pragma=trusted_schema(0)"))
	if err != nil {
		return nil, &Error{Unusable, path, "it cannot be opened", err}
	}
	s.write.SetMaxOpenConns(1)
	if err := s.migrate(migrations()); err != nil {
		_ = s.write.Close()
		return nil, err
	}
	s.read, err = sql.Open("sqlite", dsn(path, "mode=ro",
		"_pragma=busy_timeout(10000)", "_pragma=query_only(1)", "_pragma=trusted_schema(0)"))
	if err != nil {
		_ = s.write.Close()
		return nil, &Error{Unusable, path, "it cannot be opened", err}
	}
	s.read.SetMaxOpenConns(readers)
	return s, nil
}

// Close closes the file. The readers go first, so that the writer, going
// last, can tidy the log into the file.
func (s *Store) Close() error { return errors.Join(s.read.Close(), s.write.Close()) }

// dsn names the file to the driver as a URI, which no sign in a path can break.
func dsn(path string, params ...string) string {
	p := filepath.ToSlash(path)
	if !strings.HasPrefix(p, "/") {
		p = "/" + p // C:/… on Windows
	}
	u := url.URL{Scheme: "file", Path: p}
	return u.String() + "?" + strings.Join(params, "&")
}

// remove deletes a database and its companions.
func remove(path string) error {
	var errs []error
	for _, suffix := range []string{"", "-wal", "-shm", "-journal"} {
		if err := os.Remove(path + suffix); err != nil && !errors.Is(err, fs.ErrNotExist) {
			errs = append(errs, err)
		}
	}
	return errors.Join(errs...)
}

// inTx runs work in one writing transaction: all of it or nothing.
func (s *Store) inTx(ctx context.Context, what string, work func(*sql.Tx) error) error {
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return fmt.Errorf("%s: %w", what, s.explain(err))
	}
	defer func() { _ = tx.Rollback() }() // does nothing after a commit
	if err := work(tx); err != nil {
		return fmt.Errorf("%s: %w", what, s.explain(err))
	}
	if err := tx.Commit(); err != nil {
		return fmt.Errorf("%s: %w", what, s.explain(err))
	}
	return nil
}
