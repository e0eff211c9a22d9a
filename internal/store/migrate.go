package store

import (
	"context"
	"database/sql"
	"embed"
	"fmt"
	"io/fs"
	"slices"
	"sync"
)

//go:embed migrations/*.sql
var migrationFiles embed.FS

// migrations are the steps from one file version to the next: the n-th brings
// a file from version n-1 to n. They are only ever added to.
var migrations = sync.OnceValue(func() []string {
	steps, err := readMigrations(migrationFiles)
	if err != nil {
		panic("store: " + err.Error())
	}
	return steps
})

// latest is the file version that this program writes.
func latest() int { return len(migrations()) }

// readMigrations reads migrations/0001_*.sql, 0002_*.sql, … without a gap.
func readMigrations(files fs.FS) ([]string, error) {
	names, err := fs.Glob(files, "migrations/*.sql")
	if err != nil {
		return nil, err
	}
	slices.Sort(names)
	var steps []string
	for i, name := range names {
		var number int
		if _, err := fmt.Sscanf(name, "migrations/%04d_", &number); err != nil || number != i+1 {
			return nil, fmt.Errorf("%s: want number %04d", name, i+1)
		}
		text, err := fs.ReadFile(files, name)
		if err != nil {
			return nil, err
		}
		steps = append(steps, string(text))
	}
	return steps, nil
}

// migrate brings the file up to date with steps. A file that already holds
// something is first copied beside itself.
func (s *Store) migrate(steps []string) error {
	version, err := userVersion(s.write)
	if err != nil {
		return s.explain(err)
	}
	if version > 0 && version < len(steps) {
		if err := s.backup(context.Background(), fmt.Sprintf("%s.version-%d", s.path, version)); err != nil && KindOf(err) != Exists {
			return err
		}
	}
	for n, script := range steps {
		if err := s.step(script, n+1); err != nil {
			return err
		}
	}
	return nil
}

// step runs one migration and sets the version in the same transaction; one
// that another program has meanwhile made is passed over.
func (s *Store) step(script string, to int) error {
	return s.inTx(context.Background(), fmt.Sprintf("bringing the garden file to version %d", to), func(tx *sql.Tx) error {
		version, err := userVersion(tx)
		if err != nil || version >= to {
			return err
		}
		if _, err := tx.Exec(script); err != nil {
			return err
		}
		_, err = tx.Exec(fmt.Sprintf("PRAGMA user_version = %d", to))
		return err
	})
}

func userVersion(db interface {
	QueryRow(string, ...any) *sql.Row
}) (version int, err error) {
	return version, db.QueryRow("PRAGMA user_version").Scan(&version)
}
