package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"time"
)

// deedsKept is how many deeds can be undone, one after another.
const deedsKept = 50

// deed is what was done to one line, or the writing of many at once.
type deed struct {
	entry  int64
	last   int64      // of many new lines, all from entry on; 0 = one line
	before *DiaryLine // nil where the line was new
	mime   string
	image  []byte
}

func keepDeed(ctx context.Context, tx *sql.Tx, d deed, at time.Time) error {
	before := ""
	if d.before != nil {
		text, err := json.Marshal(d.before)
		if err != nil {
			return err
		}
		before = string(text)
	}
	if _, err := tx.ExecContext(ctx, "INSERT INTO diary_deed (done_at, entry, last_entry, before, mime, image) VALUES (?,?,?,?,?,?)", stamp(at), d.entry, d.last, before, d.mime, d.image); err != nil {
		return err
	}
	return keepLast(ctx, tx, "diary_deed", deedsKept)
}

// Undone is a deed that was taken back.
type Undone struct {
	DiaryLine      // as it now is; as it was where it is gone
	Stands    bool // the line is there
	Lines     int  // how many went at once; 0 = the one
}

// UndoDiary takes back the last deed done to the diary, and tells which. An
// Error of kind Missing where nothing is left to undo.
func (s *Store) UndoDiary(ctx context.Context) (undone Undone, err error) {
	err = s.inTx(ctx, "undoing in the diary", func(tx *sql.Tx) error {
		id, d, err := lastDeed(ctx, tx)
		if errors.Is(err, sql.ErrNoRows) {
			return s.missing("nothing in the diary is left to undo")
		}
		if err != nil {
			return err
		}
		if d.last != 0 {
			undone.Lines, err = takeManyBack(ctx, tx, d)
		} else {
			undone.DiaryLine, undone.Stands, err = takeBack(ctx, tx, d)
		}
		if err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, "DELETE FROM diary_deed WHERE id = ?", id)
		return err
	})
	return undone, err
}

// takeManyBack takes out the lines that were written at once, as far as they
// are there.
func takeManyBack(ctx context.Context, tx *sql.Tx, d deed) (int, error) {
	result, err := tx.ExecContext(ctx, "DELETE FROM diary WHERE id BETWEEN ? AND ?", d.entry, d.last)
	if err != nil {
		return 0, err
	}
	n, err := result.RowsAffected()
	return int(n), err
}

func lastDeed(ctx context.Context, tx *sql.Tx) (id int64, d deed, err error) {
	var before string
	err = tx.QueryRowContext(ctx, "SELECT id, entry, last_entry, before, mime, image FROM diary_deed ORDER BY id DESC LIMIT 1").Scan(&id, &d.entry, &d.last, &before, &d.mime, &d.image)
	if err != nil || before == "" {
		return id, d, err
	}
	d.before = &DiaryLine{}
	if err := json.Unmarshal([]byte(before), d.before); err != nil {
		return id, d, fmt.Errorf("the deed before cannot be read: %w", err)
	}
	return id, d, nil
}

// takeBack brings a line to the state it was in before a deed. Its change goes
// on counting, so that nobody writes over a state they have not seen.
func takeBack(ctx context.Context, tx *sql.Tx, d deed) (line DiaryLine, stands bool, err error) {
	now, err := diaryEntry(ctx, tx, d.entry)
	there := err == nil
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return now, false, err
	}
	if d.before == nil {
		_, err := tx.ExecContext(ctx, "DELETE FROM diary WHERE id = ?", d.entry)
		return now, false, err
	}
	line = *d.before
	if there {
		line.Change = now.Change + 1
		err = overwrite(ctx, tx, line.Entry, line.Change)
	} else {
		line.Change++
		_, err = insertEntry(ctx, tx, line.Entry, &d.entry, line.Change)
	}
	if err != nil || line.Photo && len(d.image) == 0 {
		return line, err == nil, err // a photo that the deed did not touch stays
	}
	return line, true, putPhoto(ctx, tx, d.entry, d.mime, d.image)
}
