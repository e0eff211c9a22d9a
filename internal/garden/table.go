package garden

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"time"

	"haulm/internal/calendar"
)

// table reads one TOML table strictly: every key is asked for by name and
// type, the first thing wrong is kept with its line, and what nobody asked
// for is a misspelling.
type table struct {
	path  string // household, place[2]
	title string // what a person calls it: place "Long bed"
	keys  map[string]any
	asked []string
	lines lineIndex
	err   error
}

// fail keeps the first error, naming the line of key (or of the table).
func (t *table) fail(key, format string, args ...any) {
	if t.err != nil {
		return
	}
	where := t.lines.at(join(t.path, key))
	if where == "" {
		where = t.lines.at(t.path)
	}
	subject := ""
	if t.title != "" {
		subject = t.title + ": "
	}
	t.err = fmt.Errorf("%s%s%s", where, subject, fmt.Sprintf(format, args...))
}

// get is the raw value of key; a missing one is an error when it is needed.
func (t *table) get(key string, needed bool) (any, bool) {
	t.asked = append(t.asked, key)
	v, ok := t.keys[key]
	if !ok && needed {
		if near := t.misspelling(key); near != "" {
			t.fail(near, "unknown key %q; did you mean %q?", near, key)
		}
		t.fail(key, "%s is missing; add a line %s = …", key, key)
	}
	return v, ok
}

// misspelling finds a key in the table that looks like key written wrong.
func (t *table) misspelling(key string) string {
	var unasked []string
	for name := range t.keys {
		if !slices.Contains(t.asked, name) {
			unasked = append(unasked, name)
		}
	}
	slices.Sort(unasked)
	return Nearest(key, unasked)
}

func (t *table) text(key string, needed bool) string {
	v, ok := t.get(key, needed)
	if !ok {
		return ""
	}
	s, ok := v.(string)
	if !ok {
		t.fail(key, "%s must be text in quotes, not %s", key, kindOf(v))
	}
	return s
}

// yes is a key that is true or false, and usual where it is left out.
func (t *table) yes(key string, usual bool) bool {
	v, ok := t.get(key, false)
	if !ok {
		return usual
	}
	said, ok := v.(bool)
	if !ok {
		t.fail(key, "%s must be true or false, without quotes, not %s", key, kindOf(v))
	}
	return said
}

func (t *table) number(key string, needed bool) float64 {
	v, ok := t.get(key, needed)
	if !ok {
		return 0
	}
	switch n := v.(type) {
	case float64:
		return n
	case int64:
		return float64(n)
	}
	t.fail(key, "%s must be a plain number such as 2.5, not %s", key, kindOf(v))
	return 0
}

func (t *table) whole(key string, needed bool) int {
	v, ok := t.get(key, needed)
	if !ok {
		return 0
	}
	n, ok := v.(int64)
	if f, isFloat := v.(float64); isFloat && f == math.Trunc(f) && math.Abs(f) < 1e9 {
		n, ok = int64(f), true
	}
	if !ok || n < math.MinInt32 || n > math.MaxInt32 {
		t.fail(key, "%s must be a whole number, not %s", key, kindOf(v))
	}
	return int(n)
}

// date reads a TOML date or an ISO date in quotes; None where it is missing.
func (t *table) date(key string, needed bool) calendar.Date {
	v, ok := t.get(key, needed)
	if !ok {
		return calendar.None
	}
	switch d := v.(type) {
	case time.Time:
		return calendar.FromTime(d)
	case string:
		parsed, err := calendar.Parse(d)
		if err == nil {
			return parsed
		}
	}
	t.fail(key, "%s must be a date like 2027-03-20, not %s", key, kindOf(v))
	return calendar.None
}

// done reports the first thing wrong, unknown keys included.
func (t *table) done() error {
	if t.err != nil {
		return t.err
	}
	for _, key := range sortedKeys(t.keys) {
		if !slices.Contains(t.asked, key) {
			t.fail(key, "unknown key %q; %s", key, hint(key, t.asked))
		}
	}
	return t.err
}

func sortedKeys(m map[string]any) []string {
	keys := make([]string, 0, len(m))
	for key := range m {
		keys = append(keys, key)
	}
	slices.Sort(keys)
	return keys
}

// kindOf describes a TOML value to a person.
func kindOf(v any) string {
	switch v := v.(type) {
	case string:
		return strconv.Quote(v)
	case int64, float64, bool:
		return fmt.Sprint(v)
	case time.Time:
		return "a date"
	case map[string]any:
		return "a table"
	}
	return "a list"
}
