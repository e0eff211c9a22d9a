package crop

import (
	"math"
	"math/bits"
	"slices"
	"strings"
)

// The schema says which facts a table may hold, within what bounds, and where
// each goes. A fact it does not name is refused.

// rule is one fact's place in a T.
type rule[T any] struct {
	name     string
	min, max float64
	text     bool
	words    []string // allowed words; none = any
	needed   bool
	set      func(*T, Fact)
}

// figure is a needed number.
func figure[T any](name string, min, max float64, into func(*T) *float64) rule[T] {
	r := option(name, min, max, into)
	r.needed = true
	return r
}

// option is a number that may be missing.
func option[T any](name string, min, max float64, into func(*T) *float64) rule[T] {
	return rule[T]{name: name, min: min, max: max, set: func(t *T, f Fact) { *into(t) = f.Value }}
}

// yesNo is 1 for yes and 0 for no.
func yesNo[T any](name string, into func(*T) *bool) rule[T] {
	return rule[T]{name: name, max: 1, set: func(t *T, f Fact) { *into(t) = f.Value == 1 }}
}

// wording is a fact that is words.
func wording[T any](name string, needed bool, into func(*T) *string, words ...string) rule[T] {
	return rule[T]{name: name, text: true, words: words, needed: needed, set: func(t *T, f Fact) { *into(t) = f.Text }}
}

// spread is a needed number that is kept with its low and high.
func spread[T any](name string, min, max float64, set func(t *T, low, value, high float64)) rule[T] {
	return rule[T]{name: name, min: min, max: max, needed: true, set: func(t *T, f Fact) {
		low, high := f.Low, f.High
		if math.IsNaN(low) {
			low, high = f.Value, f.Value
		}
		set(t, low, f.Value, high)
	}}
}

// ifAny is the rule for a fact that may be missing.
func (r rule[T]) ifAny() rule[T] {
	r.needed = false
	return r
}

// apply checks the fact against the rule and puts it in its place.
func (r rule[T]) apply(t *T, f Fact, at row) error {
	if r.text {
		return r.applyText(t, f, at)
	}
	if f.Text != "" {
		return at.fault("%s is a number, not words", f.Name)
	}
	if math.IsNaN(f.Value) {
		return at.fault("%s has no value", f.Name)
	}
	for _, x := range []float64{f.Low, f.Value, f.High} {
		if x < r.min || x > r.max {
			return at.fault("%s: %g %s is outside %g to %g", f.Name, x, f.Unit, r.min, r.max)
		}
	}
	if strings.HasSuffix(r.name, "_yes") && f.Value != 0 && f.Value != 1 {
		return at.fault("%s is 1 for yes or 0 for no, not %g", f.Name, f.Value)
	}
	r.set(t, f)
	return nil
}

func (r rule[T]) applyText(t *T, f Fact, at row) error {
	if f.Text == "" || !math.IsNaN(f.Value) || !math.IsNaN(f.Low) {
		return at.fault("%s is words, not a number", f.Name)
	}
	if len(r.words) > 0 && !slices.Contains(r.words, f.Text) {
		return at.fault("%s: %q is none of %v", f.Name, f.Text, r.words)
	}
	r.set(t, f)
	return nil
}

// book is a table's rules by name. Each has a bit, by which what has been
// read is remembered.
type book[T any] struct {
	rules  []rule[T]
	at     map[string]int
	needed uint64
}

func bookOf[T any](rules []rule[T]) book[T] {
	b := book[T]{rules: rules, at: make(map[string]int, len(rules))}
	for i, r := range rules {
		b.at[r.name] = i
		if r.needed {
			b.needed |= 1 << i
		}
	}
	return b
}

// apply puts the fact in its place in t and marks it in seen; it refuses
// facts the table does not have, and those it has already.
func (b book[T]) apply(t *T, f *Fact, seen *uint64, at row) error {
	i, ok := b.at[f.Name]
	if !ok {
		return at.fault("%s is no fact of this table", f.Name)
	}
	if *seen&(1<<i) != 0 {
		return at.fault("%s of %s stands twice", f.Name, at.cells[0])
	}
	*seen |= 1 << i
	f.Name = b.rules[i].name
	return b.rules[i].apply(t, *f, at)
}

// missing is the first needed fact not in seen, or "".
func (b book[T]) missing(seen uint64) string {
	left := b.needed &^ seen
	if left == 0 {
		return ""
	}
	return b.rules[bits.TrailingZeros64(left)].name
}
