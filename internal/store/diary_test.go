package store

import (
	"bytes"
	"fmt"
	"path/filepath"
	"sync"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/diary"
)

var courgettes = diary.Entry{
	Kind: diary.Picked, Day: calendar.On(2027, 7, 24), Place: "Bed 2", Crop: "courgette", Planting: "courgette-bed2",
	Amount: 800, Unit: diary.Gram, Text: "the first; with a bee in it",
}

func TestDiaryComesBackAsWritten(t *testing.T) {
	s := fresh(t)
	id, err := s.AddDiary(ctx, courgettes, now)
	must(t, err)
	must(t, s.SetPhoto(ctx, id, "image/jpeg", []byte("not really a picture"), now))
	want := courgettes
	want.ID, want.Photo = id, true
	lines, err := s.Diary(ctx)
	must(t, err)
	if len(lines) != 1 || lines[0].Entry != want {
		t.Fatalf("got %+v, want %+v", lines, want)
	}
	mime, image, err := s.Photo(ctx, id)
	if err != nil || mime != "image/jpeg" || !bytes.Equal(image, []byte("not really a picture")) {
		t.Errorf("photo %q %q, %v", mime, image, err)
	}
}

func TestDiaryUndoesEachDeedInTurn(t *testing.T) {
	s := fresh(t)
	id, err := s.AddDiary(ctx, courgettes, now)
	must(t, err)
	must(t, s.SetPhoto(ctx, id, "image/png", []byte("p"), now))
	heavier := courgettes
	heavier.ID, heavier.Amount = id, 900
	must(t, s.EditDiary(ctx, heavier, 2, now))
	must(t, s.RemoveDiary(ctx, id, now))

	line, err := s.UndoDiary(ctx)
	if err != nil || !line.Stands || line.Amount != 900 {
		t.Fatalf("undoing the removal gave %+v %v", line, err)
	}
	if _, image, err := s.Photo(ctx, id); err != nil || string(image) != "p" {
		t.Errorf("the photo did not come back: %q, %v", image, err)
	}
	if line, err = s.UndoDiary(ctx); err != nil || !line.Stands || line.Amount != 800 {
		t.Fatalf("undoing the edit gave %+v %v", line, err)
	}
	if line, err = s.UndoDiary(ctx); err != nil || !line.Stands || line.Photo {
		t.Fatalf("undoing the photo gave %+v %v", line, err)
	}
	if _, _, err := s.Photo(ctx, id); KindOf(err) != Missing {
		t.Errorf("the photo undone is still there: %v", err)
	}
	if line, err = s.UndoDiary(ctx); err != nil || line.Stands {
		t.Fatalf("undoing the writing left it standing: %v", err)
	}
	if lines, err := s.Diary(ctx); err != nil || len(lines) != 0 {
		t.Errorf("the diary still holds %v, %v", lines, err)
	}
	if _, err = s.UndoDiary(ctx); KindOf(err) != Missing {
		t.Errorf("one undo too many gave %v", err)
	}
}

// Two phones alter one line: the second is told, and nothing is lost.
func TestDiaryRefusesAnUnseenState(t *testing.T) {
	s := fresh(t)
	id, err := s.AddDiary(ctx, courgettes, now)
	must(t, err)
	first, second := courgettes, courgettes
	first.ID, first.Amount = id, 850
	second.ID, second.Amount = id, 700
	must(t, s.EditDiary(ctx, first, 1, now))
	if err := s.EditDiary(ctx, second, 1, now); KindOf(err) != Exists {
		t.Errorf("the second writer got %v", err)
	}
	line, err := s.lineIn(ctx, s.read, id)
	if err != nil || line.Amount != 850 {
		t.Errorf("the line is now %+v, %v", line, err)
	}
	if _, err := s.lineIn(ctx, s.read, id+1); KindOf(err) != Missing {
		t.Errorf("a line that is not there gave %v", err)
	}
	if err := s.RemoveDiary(ctx, id+1, now); KindOf(err) != Missing {
		t.Errorf("removing a line that is not there gave %v", err)
	}
}

// Two programs have the file open and write at once: every line is kept.
func TestDiaryTakesTwoWritersAtOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), "g.haulm")
	a, err := Create(path)
	must(t, err)
	defer a.Close()
	b, err := Open(path)
	must(t, err)
	defer b.Close()
	const each = 40
	var wg sync.WaitGroup
	for n, s := range []*Store{a, b} {
		wg.Go(func() {
			for i := range each {
				e := courgettes
				e.Text = fmt.Sprintf("writer %d line %d", n, i)
				if _, err := s.AddDiary(ctx, e, now); err != nil {
					t.Errorf("writer %d: %v", n, err)
				}
			}
		})
	}
	wg.Wait()
	lines, err := b.Diary(ctx)
	must(t, err)
	seen := map[string]bool{}
	for _, line := range lines {
		seen[line.Text] = true
	}
	if len(lines) != 2*each || len(seen) != 2*each {
		t.Errorf("%d lines, %d different, want %d", len(lines), len(seen), 2*each)
	}
}

func TestDiaryRefusesAHugePhoto(t *testing.T) {
	s := fresh(t)
	id, err := s.AddDiary(ctx, courgettes, now)
	must(t, err)
	if err := s.SetPhoto(ctx, id, "image/jpeg", make([]byte, mostPhotoBytes+1), now); err == nil {
		t.Error("a photo above the bound was kept")
	}
}

// A line without a photo that was taken out comes back by an undo.
func TestDiaryLineWithoutPhotoComesBack(t *testing.T) {
	s := fresh(t)
	id, err := s.AddDiary(ctx, courgettes, now)
	must(t, err)
	must(t, s.RemoveDiary(ctx, id, now))
	line, err := s.UndoDiary(ctx)
	if err != nil || !line.Stands || line.ID != id || line.Amount != 800 {
		t.Errorf("undone to %+v, %v", line, err)
	}
}

// A photo put in place of another, and one taken away, come back in turn.
func TestDiaryPhotosComeBack(t *testing.T) {
	s := fresh(t)
	id, err := s.AddDiary(ctx, courgettes, now)
	must(t, err)
	for _, image := range []string{"first", "second", ""} {
		must(t, s.SetPhoto(ctx, id, "image/jpeg", []byte(image), now))
	}
	for _, want := range []string{"second", "first", ""} {
		line, err := s.UndoDiary(ctx)
		if err != nil || !line.Stands {
			t.Fatalf("undone to %+v, %v", line, err)
		}
		if _, image, err := s.Photo(ctx, id); string(image) != want || (err == nil) != (want != "") {
			t.Errorf("undone to the photo %q, %v; want %q", image, err, want)
		}
	}
}
