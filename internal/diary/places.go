package diary

import (
	"fmt"
	"slices"
	"strings"
)

// placeWords are the words of a place's name as a line's are made, without a
// leading article and any "the": nobody asks for "The long bed" in full.
func placeWords(name string) []string {
	words := plainWords(name)
	if len(words) > 1 && articles[words[0]] {
		words = words[1:]
	}
	return slices.DeleteFunc(words, func(w string) bool { return w == "the" && len(words) > 1 })
}

func plainWords(name string) []string {
	var out []string
	for _, t := range tokens(name) {
		out = append(out, t.plain)
	}
	return out
}

var articles = map[string]bool{"the": true, "a": true, "an": true}

// findPlace takes a place's whole name out of the line, the longest first; of
// two that an article alone tells apart the one as it was typed.
func (r *reading) findPlace() {
	var best run
	found, typed := "", 0
	for _, p := range r.context.Places {
		all, words := plainWords(p.Name), placeWords(p.Name)
		whole := r.spelt(words)
		if whole.words == 0 || whole.words < best.words {
			continue
		}
		asTyped := 0
		if r.spelt(all).words > 0 {
			asTyped = len(all)
		}
		if whole.words > best.words || asTyped > typed {
			best, found, typed = whole, p.Name, asTyped
		}
	}
	if best.words > 0 {
		r.entry.Place = found
		r.use(best.at, best.tokens)
	}
}

// run is a stretch of the line that spells some words of places' names one
// after the other.
type run struct {
	at, tokens int  // where it stands on the line, "the" within it counted
	words      int  // of a name
	begun      bool // the last word is only begun: "green" for "greenhouse"
	places     []string
}

// longer says whether a run has more of a name than another.
func (a run) longer(b run) bool {
	return a.words > b.words || a.words == b.words && b.begun && !a.begun
}

// outranks says whether a run tells more than another.
func (a run) outranks(b run) bool {
	return a.longer(b) || !b.longer(a) && len(a.places) == 1 && len(b.places) > 1
}

// spelt is where the line first has all the words of a name, "the" between them
// passed over.
func (r *reading) spelt(words []string) run {
	for i := range r.words {
		if found := r.runOf(i, words); len(words) > 0 && found.words == len(words) && !found.begun {
			return found
		}
	}
	return run{}
}

// runOf is how many of a name's words, from its first on, the line has from
// word i on.
func (r *reading) runOf(i int, words []string) run {
	out, k := run{at: i}, i
	for _, w := range words {
		for out.words > 0 && r.word(k) == "the" && w != "the" {
			k++
		}
		said := r.word(k)
		begun := said != w && len(said) >= shortest && numberEnd(said) == 0 && !fillers[said] && strings.HasPrefix(w, said)
		if said == "" || said != w && !begun {
			break
		}
		k++
		out.words, out.tokens, out.begun = out.words+1, k-i, begun
		if begun {
			break
		}
	}
	return out
}

// runAt is the longest run from word i on over all places, from whichever word
// of their names.
func (r *reading) runAt(i int) run {
	var best run
	for _, p := range r.context.Places {
		words := placeWords(p.Name)
		for from := range words {
			found := r.runOf(i, words[from:])
			if found.words == 0 || best.longer(found) {
				continue
			}
			if found.longer(best) {
				best = found
			}
			if !slices.Contains(best.places, p.Name) {
				best.places = append(best.places, p.Name)
			}
		}
	}
	return best
}

// telling says whether a run has a word that can stand for a place.
func (r *reading) telling(found run) bool {
	for i := found.at; i < found.at+found.tokens; i++ {
		word := r.word(i)
		if len(word) < shortest || fillers[word] || numberEnd(word) > 0 || found.words == 1 && r.entry.Kind == Lost && causeWords[word] != "" {
			continue
		}
		return true
	}
	return false
}

// partOfPlace reads words of a place's name as the place, where they are those
// of one place alone; it asks where they are not.
func (r *reading) partOfPlace() error {
	if r.entry.Place != "" {
		return nil
	}
	var best run
	for i := range r.words {
		if found := r.runAt(i); found.outranks(best) && r.telling(found) {
			best = found
		}
	}
	if best.words == 1 && len(best.places) > 1 && r.beginsCrop(best.at) {
		return nil
	}
	return r.takeRun(best)
}

func (r *reading) takeRun(found run) error {
	switch len(found.places) {
	case 0:
	case 1:
		r.entry.Place = found.places[0]
		r.use(found.at, found.tokens)
	default:
		last := len(found.places) - 1
		return fmt.Errorf("%s%q could be %s or %s: name the one", r.understood(), r.typed(found.at, found.tokens), strings.Join(found.places[:last], ", "), found.places[last])
	}
	return nil
}

// groundWords are what places are commonly called.
var groundWords = map[string]bool{"bed": true, "border": true, "pot": true, "pots": true, "plot": true, "row": true, "frame": true, "tunnel": true, "greenhouse": true}

// numberedPlace reads "bed 2" as part of a place's name, and refuses it in a
// garden that has none, so that the number is not read as an amount.
func (r *reading) numberedPlace() error {
	if r.entry.Place != "" {
		return nil
	}
	for i := range r.words {
		if !groundWords[r.word(i)] || numberEnd(r.word(i+1)) == 0 || isUnitFor(r.entry.Kind, r.word(i+2)) {
			continue
		}
		var best run
		for from := range i + 1 {
			if found := r.runAt(from); found.at+found.tokens > i+1 && found.outranks(best) {
				best = found
			}
		}
		if best.words > 0 {
			return r.takeRun(best)
		}
		return fmt.Errorf("%sno place is called %q; the places are %s", r.understood(), r.typed(i, 2), r.placeList())
	}
	return nil
}

func (r *reading) placeList() string {
	if len(r.context.Places) == 0 {
		return "none yet: add one to the garden"
	}
	var names []string
	for _, p := range r.context.Places {
		names = append(names, p.Name)
	}
	return strings.Join(names, ", ")
}

// brokenOff refuses a line without a place that ends in an article: what was to
// follow would be guessed.
func (r *reading) brokenOff() error {
	last := len(r.words) - 1
	if r.entry.Place != "" || !articles[r.word(last)] {
		return nil
	}
	return fmt.Errorf("%sthe line breaks off after %q; name the place, or leave the word out", r.understood(), r.words[last].typed)
}
