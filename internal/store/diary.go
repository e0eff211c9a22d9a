package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"

	"haulm/internal/diary"
)

// DiaryLine is an entry as the file keeps it: Change tells one state of a line
// from the next.
type DiaryLine struct {
	diary.Entry
	Change int
}

// mostPhotoBytes bounds one photo: a phone's picture is 2 to 8 MB.
const mostPhotoBytes = 16 << 20

const diaryColumns = "SELECT d.id, d.kind, d.day, d.place, d.crop, d.planting, d.amount, d.unit, d.cause, d.text, d.change, p.entry IS NOT NULL FROM diary d LEFT JOIN diary_photo p ON p.entry = d.id"

// Diary reads the whole diary, in order of day and of writing.
func (s *Store) Diary(ctx context.Context) ([]DiaryLine, error) {
	r := &reader{ctx: ctx, q: s.read}
	lines := list(r, diaryColumns+" ORDER BY d.day, d.id", (*DiaryLine).fields)
	if r.err != nil {
		return nil, fmt.Errorf("reading the diary: %w", s.explain(r.err))
	}
	return lines, nil
}

func (l *DiaryLine) fields() []any {
	return []any{&l.ID, &l.Kind, day{&l.Day}, &l.Place, &l.Crop, &l.Planting, &l.Amount, &l.Unit, &l.Cause, &l.Text, &l.Change, &l.Photo}
}

// lineIn is a line of the diary; an Error of kind Missing where there is none.
func (s *Store) lineIn(ctx context.Context, q queryer, id int64) (DiaryLine, error) {
	line, err := diaryEntry(ctx, q, id)
	if errors.Is(err, sql.ErrNoRows) {
		return line, s.missing("the diary has no line %d; it may have been taken out elsewhere", id)
	}
	return line, err
}

func diaryEntry(ctx context.Context, q queryer, id int64) (DiaryLine, error) {
	var line DiaryLine
	err := q.QueryRowContext(ctx, diaryColumns+" WHERE d.id = ?", id).Scan(line.fields()...)
	return line, err
}

// AddDiary writes a new line and returns its number; at is the time now.
func (s *Store) AddDiary(ctx context.Context, e diary.Entry, at time.Time) (id int64, err error) {
	err = s.inTx(ctx, "writing in the diary", func(tx *sql.Tx) error {
		if id, err = insertEntry(ctx, tx, e, nil, 1); err != nil {
			return err
		}
		return keepDeed(ctx, tx, deed{entry: id}, at)
	})
	return id, err
}

// insertEntry writes a line, under its own old number where keep is given.
func insertEntry(ctx context.Context, tx *sql.Tx, e diary.Entry, keep *int64, change int) (int64, error) {
	var id any
	if keep != nil {
		id = *keep
	}
	result, err := tx.ExecContext(ctx, "INSERT INTO diary (id, kind, day, place, crop, planting, amount, unit, cause, text, change) VALUES (?,?,?,?,?,?,?,?,?,?,?)",
		id, string(e.Kind), e.Day.String(), e.Place, e.Crop, e.Planting, e.Amount, string(e.Unit), e.Cause, e.Text, change)
	if err != nil {
		return 0, err
	}
	return result.LastInsertId()
}

// EditDiary writes e over the line with its number, if that is still in the
// state change; else somebody else has altered it meanwhile, and the Error is
// of kind Exists.
func (s *Store) EditDiary(ctx context.Context, e diary.Entry, change int, at time.Time) error {
	return s.inTx(ctx, "altering the diary", func(tx *sql.Tx) error {
		old, err := s.lineIn(ctx, tx, e.ID)
		if err != nil {
			return err
		}
		if old.Change != change {
			return &Error{Kind: Exists, Path: s.path, Text: fmt.Sprintf("line %d of the diary was altered elsewhere meanwhile; look at it again before writing over it", e.ID)}
		}
		if err := overwrite(ctx, tx, e, change+1); err != nil {
			return err
		}
		return keepDeed(ctx, tx, deed{entry: e.ID, before: &old}, at)
	})
}

func overwrite(ctx context.Context, tx *sql.Tx, e diary.Entry, change int) error {
	_, err := tx.ExecContext(ctx, "UPDATE diary SET kind=?, day=?, place=?, crop=?, planting=?, amount=?, unit=?, cause=?, text=?, change=? WHERE id=?",
		string(e.Kind), e.Day.String(), e.Place, e.Crop, e.Planting, e.Amount, string(e.Unit), e.Cause, e.Text, change, e.ID)
	return err
}

// RemoveDiary takes a line out, its photo with it; UndoDiary brings both back.
func (s *Store) RemoveDiary(ctx context.Context, id int64, at time.Time) error {
	return s.inTx(ctx, "taking a line out of the diary", func(tx *sql.Tx) error {
		d, err := s.deedOn(ctx, tx, id)
		if err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, "DELETE FROM diary WHERE id = ?", id); err != nil {
			return err
		}
		return keepDeed(ctx, tx, d, at)
	})
}

// SetPhoto keeps a photo with a line, in place of one before; no bytes take it
// away. It is a deed like another: UndoDiary brings back what was there.
func (s *Store) SetPhoto(ctx context.Context, entry int64, mime string, image []byte, at time.Time) error {
	if len(image) > mostPhotoBytes {
		return fmt.Errorf("the photo is larger than %d MB; make it smaller first", mostPhotoBytes>>20)
	}
	return s.inTx(ctx, "keeping a photo", func(tx *sql.Tx) error {
		d, err := s.deedOn(ctx, tx, entry)
		if err != nil {
			return err
		}
		if err := putPhoto(ctx, tx, entry, mime, image); err != nil {
			return err
		}
		if err := overwrite(ctx, tx, d.before.Entry, d.before.Change+1); err != nil {
			return err
		}
		return keepDeed(ctx, tx, d, at)
	})
}

// deedOn is a deed about to be done to a line: the line as it stands is put by
// with it, and its photo, if it has one.
func (s *Store) deedOn(ctx context.Context, tx *sql.Tx, id int64) (deed, error) {
	old, err := s.lineIn(ctx, tx, id)
	d := deed{entry: id, before: &old}
	if err == nil && old.Photo {
		err = tx.QueryRowContext(ctx, "SELECT mime, image FROM diary_photo WHERE entry = ?", id).Scan(&d.mime, &d.image)
	}
	return d, err
}

// putPhoto makes an image the photo of a line; no bytes for none.
func putPhoto(ctx context.Context, tx *sql.Tx, entry int64, mime string, image []byte) error {
	if len(image) == 0 {
		_, err := tx.ExecContext(ctx, "DELETE FROM diary_photo WHERE entry = ?", entry)
		return err
	}
	_, err := tx.ExecContext(ctx, "INSERT OR REPLACE INTO diary_photo VALUES (?, ?, ?)", entry, mime, image)
	return err
}

// Photo is the photo kept with a line; an Error of kind Missing where there is
// none.
func (s *Store) Photo(ctx context.Context, entry int64) (mime string, image []byte, err error) {
	err = s.read.QueryRowContext(ctx, "SELECT mime, image FROM diary_photo WHERE entry = ?", entry).Scan(&mime, &image)
	if errors.Is(err, sql.ErrNoRows) {
		return "", nil, s.missing("no photo is kept with line %d of the diary", entry)
	}
	return mime, image, s.explain(err)
}

// PhotoMimes are the media types of all photos, by the line that each is kept
// with.
func (s *Store) PhotoMimes(ctx context.Context) (map[int64]string, error) {
	type kept struct {
		entry int64
		mime  string
	}
	r := &reader{ctx: ctx, q: s.read}
	out := map[int64]string{}
	for _, k := range list(r, "SELECT entry, mime FROM diary_photo", func(k *kept) []any { return []any{&k.entry, &k.mime} }) {
		out[k.entry] = k.mime
	}
	if r.err != nil {
		return nil, fmt.Errorf("listing the photos: %w", s.explain(r.err))
	}
	return out, nil
}
