package store

import (
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"modernc.org/sqlite"
	lib "modernc.org/sqlite/lib"
)

// applicationID marks a garden file: the letters "Haul" in the field that
// SQLite leaves to applications.
const applicationID = 0x4861756c

// The SQLite file header (sqlite.org/fileformat2.html, section 1.3).
const (
	headerBytes         = 100
	magic               = "SQLite format 3\x00"
	userVersionOffset   = 60
	applicationIDOffset = 68
)

// inspect looks at a file without writing to it and says why it cannot be
// used, if so. The header is read as plain bytes first, so that SQLite never
// opens a file that is not ours.
func inspect(path string) error {
	header, err := readHeader(path)
	if err != nil {
		return err
	}
	if id := binary.BigEndian.Uint32(header[applicationIDOffset:]); id != applicationID {
		return &Error{NotGarden, path, "this is another program's database, not a garden; nothing was changed", nil}
	}
	if err := tooNew(path, int(binary.BigEndian.Uint32(header[userVersionOffset:]))); err != nil {
		return err
	}
	if err := writable(path); err != nil {
		return err
	}
	return examine(path)
}

func readHeader(path string) ([]byte, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, &Error{Missing, path, "there is no such file; check the name, or make a new garden", nil}
	case err != nil:
		return nil, &Error{Unusable, path, "it cannot be read", err}
	case info.IsDir():
		return nil, &Error{NotGarden, path, "this is a folder; name the garden file in it", nil}
	case info.Size() == 0:
		return nil, &Error{NotGarden, path, "this file is empty, so no garden is in it; restore a backup, or remove it and make a new garden", nil}
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, &Error{Unusable, path, "it cannot be read; check who may read it", err}
	}
	defer f.Close()
	header := make([]byte, headerBytes)
	if _, err := io.ReadFull(f, header); err != nil || string(header[:len(magic)]) != magic {
		return nil, &Error{NotGarden, path, "this is not a garden file; nothing was changed (a garden in text form is imported, not opened)", nil}
	}
	return header, nil
}

func tooNew(path string, version int) error {
	if version <= latest() {
		return nil
	}
	return &Error{Newer, path, fmt.Sprintf("it was written by a newer Haulm (file version %d, this one knows %d); update Haulm to open it; nothing was changed", version, latest()), nil}
}

// writable tries the file and its folder: SQLite keeps its log beside the file.
func writable(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return &Error{ReadOnly, path, "it may not be written; copy it to a folder of your own, or change who may write it", err}
	}
	_ = f.Close()
	probe, err := os.CreateTemp(filepath.Dir(path), ".haulm-*")
	if err != nil {
		return folderError(path, err)
	}
	return errors.Join(probe.Close(), os.Remove(probe.Name()))
}

func folderError(path string, err error) error {
	return &Error{ReadOnly, path, "its folder cannot be written; choose a folder of your own with --garden", err}
}

// examine lets SQLite read through the file on a connection that cannot write.
// Where no log lies beside it, the file is all there is and SQLite is told
// not to make one.
func examine(path string) error {
	mode := "mode=ro"
	if _, err := os.Stat(path + "-wal"); errors.Is(err, fs.ErrNotExist) {
		mode = "immutable=1"
	}
	db, err := sql.Open("sqlite", dsn(path, mode, "_pragma=busy_timeout(10000)", "_pragma=query_only(1)", "_pragma=trusted_schema(0)"))
	if err != nil {
		return &Error{Unusable, path, "it cannot be opened", err}
	}
	defer db.Close()
	// The version in the file may lag behind the one in its log.
	var version int
	if err := db.QueryRow("PRAGMA user_version").Scan(&version); err != nil {
		return broken(path, err)
	}
	if err := tooNew(path, version); err != nil {
		return err
	}
	var verdict string
	if err := db.QueryRow("PRAGMA quick_check(1)").Scan(&verdict); err != nil {
		return broken(path, err)
	}
	if verdict != "ok" {
		return damaged(path, errors.New(verdict))
	}
	return nil
}

func damaged(path string, err error) error {
	return &Error{Damaged, path, "it is damaged; nothing was changed; keep it, and restore your latest backup under another name", err}
}

// broken tells damage from other trouble.
func broken(path string, err error) error {
	switch code(err) {
	case lib.SQLITE_CORRUPT, lib.SQLITE_NOTADB:
		return damaged(path, err)
	case lib.SQLITE_FULL:
		return &Error{Unusable, path, "the disk is full; make room and try again; nothing was changed", err}
	case lib.SQLITE_READONLY, lib.SQLITE_CANTOPEN, lib.SQLITE_PERM:
		return &Error{ReadOnly, path, "it cannot be written; choose a folder of your own with --garden", err}
	case lib.SQLITE_BUSY, lib.SQLITE_LOCKED:
		return &Error{Unusable, path, "another program is writing to it; close that and try again", err}
	}
	return &Error{Unusable, path, "it cannot be used", err}
}

// explain puts SQLite's own errors into words and leaves others alone.
func (s *Store) explain(err error) error {
	if code(err) == 0 {
		return err
	}
	return broken(s.path, err)
}

// code is SQLite's primary result code in err, or 0.
func code(err error) int {
	var e *sqlite.Error
	if errors.As(err, &e) {
		return e.Code() & 0xff
	}
	return 0
}
