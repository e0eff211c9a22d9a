package diary

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"haulm/internal/crop"
	"haulm/internal/garden"
)

// ParseLine reads one line in free word order against what grows in the
// garden. What cannot be understood or cannot be true is an error in one
// sentence that says what was understood and what to write instead; doubts
// are said beside an entry that is kept all the same.
func ParseLine(line string, c Context) (entry Entry, doubts []string, err error) {
	if strings.TrimSpace(line) == "" {
		return Entry{}, nil, errors.New(`the line is empty; write what happened, such as "picked 800 g courgettes bed 2"`)
	}
	if len(line) > longestLine || !utf8.ValidString(line) {
		return Entry{}, nil, fmt.Errorf("the line is no line of text, or longer than %d letters; split it", longestLine)
	}
	head, text := splitText(line)
	r := &reading{context: c, words: tokens(head)}
	r.entry.Text = text
	if err := r.understand(line); err != nil {
		return Entry{}, nil, err
	}
	if r.entry.Kind == Note {
		return r.entry, nil, nil
	}
	doubts, err = Check(r.entry, c)
	if err != nil {
		return Entry{}, nil, err
	}
	return r.entry, doubts, nil
}

// splitText parts the entry from free words after a semicolon or a dash.
func splitText(line string) (head, text string) {
	at := len(line)
	for _, sign := range []string{";", " - ", " – "} {
		if i := strings.Index(line, sign); i > 0 && i < at {
			at, head, text = i, line[:i], strings.TrimSpace(line[i+len(sign):])
		}
	}
	if at == len(line) {
		return line, ""
	}
	return head, text
}

// reading is a line on its way to being understood.
type reading struct {
	context  Context
	words    []token
	entry    Entry
	dayGiven bool
	found    []*crop.Crop // the crops that a name on the line may stand for
	spoken   []string     // that name
}

// understand takes the parts of the line in the order of how surely each is
// known by its words: whole place names, days, what happened, crops, amounts,
// and last parts of names.
func (r *reading) understand(line string) error {
	r.entry.Day = r.context.Today
	r.findPlace()
	if err := r.findDay(); err != nil {
		return err
	}
	if r.noteLine(line) {
		return nil
	}
	if err := r.findKind(); err != nil {
		return err
	}
	r.findCrop()
	if err := r.numberedPlace(); err != nil {
		return err
	}
	if err := r.findAmount(); err != nil {
		return err
	}
	if err := r.beginnings(); err != nil {
		return err
	}
	r.settleCrop()
	r.findCause()
	if err := r.leftOver(); err != nil {
		return err
	}
	if err := r.brokenOff(); err != nil {
		return err
	}
	return r.link()
}

func (r *reading) word(i int) string {
	if i < 0 || i >= len(r.words) || r.words[i].used {
		return ""
	}
	return r.words[i].plain
}

func (r *reading) use(i, n int) {
	for k := i; k < i+n && k < len(r.words); k++ {
		r.words[k].used = true
	}
}

// noteLine reads a line that begins with "note" as free words.
func (r *reading) noteLine(line string) bool {
	if len(r.words) == 0 {
		return false
	}
	first := strings.TrimSuffix(r.words[0].plain, ":")
	if first != "note" && first != "notes" {
		return false
	}
	r.findCrop()
	rest := strings.TrimPrefix(strings.TrimSpace(line)[len("note"):], "s")
	r.entry.Kind, r.entry.Text = Note, strings.TrimSpace(strings.TrimLeft(rest, ": "))
	return true
}

// findKind looks for what happened: the earliest phrase of the line, the
// longest of those.
func (r *reading) findKind() error {
	best, at, length := Kind(""), len(r.words), 0
	for _, phrase := range kindPhrases {
		words := strings.Fields(phrase.words)
		if i := r.find(words); i >= 0 && (i < at || i == at && len(words) > length) {
			best, at, length = phrase.kind, i, len(words)
		}
	}
	if best == "" {
		return fmt.Errorf("what happened? %sbegin with one of: picked, sown, up, flowering, planted, watered, fed, lost, cleared, stored, rain, low, note%s", r.understood(), r.nearestKind())
	}
	r.entry.Kind = best
	r.use(at, length)
	return nil
}

// find is where unused words of the line are those given, or -1.
func (r *reading) find(words []string) int {
	for i := 0; i+len(words) <= len(r.words); i++ {
		match := true
		for k, w := range words {
			match = match && r.word(i+k) == w
		}
		if match {
			return i
		}
	}
	return -1
}

// nearestKind offers the word that was most likely meant.
func (r *reading) nearestKind() string {
	var names []string
	for _, phrase := range kindPhrases {
		if !strings.Contains(phrase.words, " ") {
			names = append(names, phrase.words)
		}
	}
	for i := range r.words {
		if len(r.word(i)) < 4 {
			continue
		}
		if near := garden.Nearest(r.word(i), names); near != "" {
			return fmt.Sprintf("; did you mean %q?", near)
		}
	}
	return ""
}

// understood says what is known so far, for an error.
func (r *reading) understood() string {
	var parts []string
	if r.entry.Kind != "" {
		parts = append(parts, string(r.entry.Kind))
	}
	if r.entry.Given() {
		parts = append(parts, r.entry.AmountWords())
	}
	if r.entry.Crop != "" {
		parts = append(parts, r.context.cropName(r.entry.Crop))
	}
	if r.entry.Place != "" {
		parts = append(parts, r.entry.Place)
	}
	if r.dayGiven {
		parts = append(parts, r.entry.Day.Format("2 January 2006"))
	}
	if len(parts) == 0 {
		return ""
	}
	return "understood: " + strings.Join(parts, ", ") + "; "
}

// leftOver refuses words that mean nothing, with the nearest that would.
func (r *reading) leftOver() error {
	for i := range r.words {
		word := r.word(i)
		if word == "" || fillers[word] || fillers[crop.Singular(word)] {
			continue
		}
		return fmt.Errorf("%scannot make out %q%s; put free words after a semicolon", r.understood(), r.words[i].typed, r.nearestTo(word))
	}
	return nil
}

// nearestTo offers a place, crop or unit near a word.
func (r *reading) nearestTo(word string) string {
	if numberEnd(word) > 0 {
		return " (a number by itself needs its unit or its bed)"
	}
	if month, ok := months[word]; ok {
		return fmt.Sprintf(" (which day of it? write it as 12 %s)", month)
	}
	var names []string
	for _, p := range r.context.Places {
		names = append(names, plain(p.Name))
	}
	if r.context.Catalogue != nil {
		for _, c := range r.context.Catalogue.Crops() {
			names = append(names, plain(c.Name))
			for _, other := range c.OtherNames {
				names = append(names, plain(other))
			}
		}
	}
	for u := range unitWords {
		if len(u) > 3 {
			names = append(names, u)
		}
	}
	sortNames(names)
	if near := garden.Nearest(word, names); near != "" {
		return fmt.Sprintf(" (did you mean %q?)", near)
	}
	return ""
}

// findCause takes what a loss was to.
func (r *reading) findCause() {
	if r.entry.Kind != Lost {
		return
	}
	for i := range r.words {
		if w := r.word(i); w != "to" && w != "by" {
			continue
		}
		var cause []string
		for k := i + 1; k < len(r.words); k++ {
			if !r.words[k].used {
				cause = append(cause, r.words[k].typed)
			}
		}
		if len(cause) > 0 {
			r.entry.Cause = strings.Join(cause, " ")
			r.use(i, len(r.words)-i)
			return
		}
	}
	for i := range r.words {
		if cause := causeWords[r.word(i)]; cause != "" {
			r.entry.Cause = cause
			r.use(i, 1)
			return
		}
	}
}
