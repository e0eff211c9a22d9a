package store

import (
	"errors"
	"fmt"
)

// Kind says what is the matter with a garden file.
type Kind string

// The kinds.
const (
	Missing   Kind = "missing"        // there is no such file, record, plan or revision
	Exists    Kind = "exists"         // there is one already
	NotGarden Kind = "not a garden"   // not SQLite, or another program's database
	Newer     Kind = "newer"          // written by a newer Haulm
	Damaged   Kind = "damaged"        // SQLite finds it broken
	ReadOnly  Kind = "read-only"      // the file or its folder cannot be written
	Unusable  Kind = "cannot be used" // anything else the system reports
)

// Error is trouble with a garden file, said in one sentence with what to do.
type Error struct {
	Kind Kind
	Path string
	Text string
	Err  error // the system's own word, if any
}

// Error is the sentence.
func (e *Error) Error() string {
	if e.Err != nil {
		return fmt.Sprintf("garden file %s: %s (%v)", e.Path, e.Text, e.Err)
	}
	return fmt.Sprintf("garden file %s: %s", e.Path, e.Text)
}

// Unwrap gives the system's own error.
func (e *Error) Unwrap() error { return e.Err }

// KindOf is the kind of a store error, or "" for any other.
func KindOf(err error) Kind {
	var e *Error
	if errors.As(err, &e) {
		return e.Kind
	}
	return ""
}

func (s *Store) missing(format string, args ...any) error {
	return &Error{Kind: Missing, Path: s.path, Text: fmt.Sprintf(format, args...)}
}
