package app

import (
	"errors"
	"strings"
	"testing"
	"time"
)

func TestACodeHoldsOnceAndNotForLong(t *testing.T) {
	now := time.Date(2027, 6, 24, 9, 0, 0, 0, time.UTC)
	c := &Codes{Now: func() time.Time { return now }}
	if err := c.Use(""); !errors.Is(err, ErrCodeVoid) {
		t.Errorf("before there is a code: %v", err)
	}
	code := c.New()
	if len(code) != codePlaces || strings.Trim(code, codeSigns) != "" {
		t.Fatalf("code %q", code)
	}
	if err := c.Use("wrong"); !errors.Is(err, ErrCodeWrong) || !strings.Contains(err.Error(), "4 more") {
		t.Errorf("a wrong code: %v", err)
	}
	if err := c.Use(" " + strings.ToLower(code[:4]) + "-" + code[4:]); err != nil {
		t.Errorf("the code as a person types it: %v", err)
	}
	if err := c.Use(code); !errors.Is(err, ErrCodeVoid) {
		t.Errorf("the code again: %v", err)
	}
	code = c.New()
	now = now.Add(codeHolds)
	if err := c.Use(code); !errors.Is(err, ErrCodeVoid) {
		t.Errorf("an old code: %v", err)
	}
	code = c.New()
	for range codeTries {
		_ = c.Use("wrong")
	}
	if err := c.Use(code); !errors.Is(err, ErrCodeVoid) {
		t.Errorf("the code after %d wrong ones: %v", codeTries, err)
	}
	first, second := c.New(), c.New()
	if first == second {
		t.Error("two codes are alike")
	}
	if err := c.Use(first); err == nil {
		t.Error("a code holds beside the one after it")
	}
}
