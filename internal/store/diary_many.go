package store

import (
	"context"
	"database/sql"
	"time"

	"haulm/internal/diary"
)

// NewLine is a line about to be written, with its photo; no bytes for none.
type NewLine struct {
	diary.Entry
	Mime  string
	Image []byte
}

// AddDiaryLines writes n new lines, all of them or none, as one deed that
// UndoDiary takes back whole. It asks for each in its turn, with the numbers
// of those written so far, so that a line can speak of one before it.
func (s *Store) AddDiaryLines(ctx context.Context, n int, line func(i int, written []int64) (NewLine, error), at time.Time) error {
	if n == 0 {
		return nil
	}
	return s.inTx(ctx, "writing in the diary", func(tx *sql.Tx) error {
		var written []int64
		for i := range n {
			l, err := line(i, written)
			if err != nil {
				return err
			}
			id, err := insertEntry(ctx, tx, l.Entry, nil, 1)
			if err != nil {
				return err
			}
			if len(l.Image) > 0 {
				if err := putPhoto(ctx, tx, id, l.Mime, l.Image); err != nil {
					return err
				}
			}
			written = append(written, id)
		}
		return keepDeed(ctx, tx, deed{entry: written[0], last: written[n-1]}, at)
	})
}
