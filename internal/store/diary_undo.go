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

// deed is what was done to one line.
type deed struct {
	entry  int64
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
	if _, err := tx.ExecContext(ctx, "INSERT INTO diary_deed (done_at, entry, before, mime, image) VALUES (?,?,?,?,?)", stamp(at), d.entry, before, d.mime, d.image); err != nil {
		return err
	}
	return keepLast(ctx, tx, "diary_deed", deedsKept)
}

// UndoDiary takes back the last deed done to the diary, and tells which: the
// line as it now is, and whether it is there at all. An Error of kind Missing
// where nothing is left to undo.
func (s *Store) UndoDiary(ctx context.Context) (line DiaryLine, stands bool, err error) {
	err = s.inTx(ctx, "undoing in the diary", func(tx *sql.Tx) error {
		id, d, err := lastDeed(ctx, tx)
		if errors.Is(err, sql.ErrNoRows) {
			return s.missing("nothing in the diary is left to undo")
		}
		if err != nil {
			return err
		}
		if line, stands, err = takeBack(ctx, tx, d); err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, "DELETE FROM diary_deed WHERE id = ?", id)
		return err
	})
	return line, stands, err
}

func lastDeed(ctx context.Context, tx *sql.Tx) (id int64, d deed, err error) {
	var before string
	err = tx.QueryRowContext(ctx, "SELECT id, entry, before, mime, image FROM diary_deed ORDER BY id DESC LIMIT 1").Scan(&id, &d.entry, &before, &d.mime, &d.image)
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
