package store

import (
	"errors"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/diary"
)

// Many lines are written as one deed: undone, all are gone, and the line
// written before stands.
func TestManyLinesAreOneDeed(t *testing.T) {
	s := fresh(t)
	first, err := s.AddDiary(ctx, courgettes, now)
	must(t, err)
	add := func(i int, written []int64) (NewLine, error) {
		l := NewLine{Entry: diary.Entry{Kind: diary.Note, Day: calendar.On(2027, 1, 2), Text: "read in"}}
		if i == 2 {
			l.Mime, l.Image = "image/jpeg", []byte("picture")
			if len(written) != 2 || written[1] <= written[0] || written[0] <= first {
				t.Errorf("written before the third: %v", written)
			}
		}
		return l, nil
	}
	must(t, s.AddDiaryLines(ctx, 3, add, now))
	lines, err := s.Diary(ctx)
	must(t, err)
	if len(lines) != 4 {
		t.Fatalf("the diary has %d lines, want 4", len(lines))
	}
	if _, image, err := s.Photo(ctx, first+3); err != nil || string(image) != "picture" {
		t.Errorf("photo %q, %v", image, err)
	}
	undone, err := s.UndoDiary(ctx)
	if err != nil || undone.Lines != 3 || undone.Stands {
		t.Errorf("undone %+v, %v", undone, err)
	}
	if lines, err = s.Diary(ctx); err != nil || len(lines) != 1 || lines[0].ID != first {
		t.Errorf("left are %+v, %v", lines, err)
	}
	if _, _, err := s.Photo(ctx, first+3); KindOf(err) != Missing {
		t.Errorf("the photo is left: %v", err)
	}
}

// A line that cannot be had leaves none of the others.
func TestManyLinesAreAllOrNone(t *testing.T) {
	s := fresh(t)
	broken := errors.New("the photo is gone")
	err := s.AddDiaryLines(ctx, 2, func(i int, _ []int64) (NewLine, error) {
		if i == 1 {
			return NewLine{}, broken
		}
		return NewLine{Entry: courgettes}, nil
	}, now)
	if !errors.Is(err, broken) {
		t.Errorf("got %v", err)
	}
	if lines, err := s.Diary(ctx); err != nil || len(lines) != 0 {
		t.Errorf("left are %+v, %v", lines, err)
	}
	if _, err := s.UndoDiary(ctx); KindOf(err) != Missing {
		t.Errorf("there is something to undo: %v", err)
	}
}
