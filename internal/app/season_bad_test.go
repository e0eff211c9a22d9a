package app

import (
	"strings"
	"testing"
	"time"

	"haulm/internal/store"
)

// What cannot be true is refused with a word on why and what to do, and leaves
// the diary as it was.
func TestBadLinesChangeNothing(t *testing.T) {
	desk := measuredDesk(t, time.Date(2022, 7, 10, 7, 0, 0, 0, time.UTC))
	for _, line := range []string{"sown radish Gate bed 2022-05-01", "picked 300 g radish Gate bed 2022-06-01", "cleared Gate bed 2022-06-20", "sown beetroot Well bed 2022-05-01"} {
		if _, err := desk.Note(line); err != nil {
			t.Fatal(err)
		}
	}
	before, err := desk.Diary()
	if err != nil {
		t.Fatal(err)
	}
	for line, want := range map[string]string{
		"pikced 2 kg beetroot":                     `did you mean "picked"`,
		"picked 2 kg moonfruit":                    `cannot make out "moonfruit"`,
		"picked 2 kg betroot Well bed":             `"beetroot"`,
		"picked 2 kg beetroot Well bed 2022-04-01": "cannot have been picked on 1 April",
		"picked 900 kg radish Gate bed 2022-06-01": "more than Gate bed could give",
		"picked 1 kg radish Gate bed 2022-07-01":   "was cleared on 20 June",
		"sown beetroot Well bed 2023-07-01":        "has not come yet",
		"lost 300 % beetroot Well bed":             "give 100 or less",
		"watered Well bed 90000 l":                 "more than the ground could take",
	} {
		_, err := desk.Note(line)
		if err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: got %v, want one line with %q", line, err, want)
		}
	}
	after, err := desk.Diary()
	if err != nil || len(after) != len(before) {
		t.Errorf("%d lines became %d, %v", len(before), len(after), err)
	}
}

// Two phones: what the second did not see it cannot write over, and what both
// write anew is kept.
func TestTwoPhonesAtOnce(t *testing.T) {
	first := measuredDesk(t, time.Date(2022, 7, 10, 7, 0, 0, 0, time.UTC))
	file, err := store.Open(first.file.Path())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = file.Close() })
	second, err := OpenDesk(t.Context(), file, first.Catalogue, first.now)
	if err != nil {
		t.Fatal(err)
	}
	noted, err := first.Note("sown beetroot Well bed 2022-05-01")
	if err != nil {
		t.Fatal(err)
	}
	done := make(chan error, 2)
	for _, phone := range []*Desk{first, second} {
		go func() {
			for range 10 {
				if _, err := phone.Note("watered Well bed 2 cans"); err != nil {
					done <- err
					return
				}
			}
			done <- nil
		}()
	}
	for range 2 {
		if err := <-done; err != nil {
			t.Error(err)
		}
	}
	lines, err := second.Diary()
	if err != nil || len(lines) != 21 {
		t.Errorf("of 21 lines %d are kept, %v", len(lines), err)
	}
	e := noted.Entry
	e.Day--
	if err := first.EditNote(e, 1); err != nil {
		t.Fatal(err)
	}
	if err := second.EditNote(noted.Entry, 1); store.KindOf(err) != store.Exists {
		t.Errorf("writing over what another phone altered gave %v", err)
	}
}
