package diary

import (
	"slices"
	"strings"

	"haulm/internal/crop"
)

func sortNames(names []string) { slices.Sort(names) }

// findCrop takes a crop's whole name, the longest first, whichever of its
// names it is.
func (r *reading) findCrop() {
	if r.context.Catalogue == nil {
		return
	}
	parts := r.parts()
	said := longestSaid(r.context.Catalogue, parts, func(c *crop.Crop) [][]string {
		return wholeNames(slices.Concat([]string{c.Name, c.Key}, c.OtherNames, c.GenericNames, []string{c.Dish}))
	})
	loose := longestSaid(r.context.Catalogue, parts, func(c *crop.Crop) [][]string { return looseNames(c.Name) })
	if len(loose.words) > len(said.words) {
		if loose.crops = r.meantLoosely(loose); len(loose.crops) == 1 {
			said = loose
		}
	}
	if len(said.words) == 0 {
		return
	}
	r.use(said.at, said.tokens)
	r.found, r.spoken = said.crops, said.words
	r.settleCrop()
}

// spokenName is a name as it stands on the line, with the crops it may mean.
type spokenName struct {
	words      []string
	at, tokens int
	crops      []*crop.Crop
}

// longestSaid is the longest name that the line has, the first of those, in
// whichever of the ways its crops are called.
func longestSaid(catalogue *crop.Catalogue, parts [][]string, called func(*crop.Crop) [][]string) spokenName {
	var best spokenName
	for _, c := range catalogue.Crops() {
		for _, words := range called(c) {
			if len(words) < len(best.words) || len(words) == 0 {
				continue
			}
			i, n := named(parts, words)
			switch {
			case i < 0:
			case len(words) > len(best.words) || i < best.at:
				best = spokenName{words, i, n, []*crop.Crop{c}}
			case i == best.at && !slices.Contains(best.crops, c):
				best.crops = append(best.crops, c)
			}
		}
	}
	return best
}

// meantLoosely are the crops that an unfinished name can mean: the one whose
// name the catalogue takes it for, else those that have it, of several the ones
// that grow here.
func (r *reading) meantLoosely(said spokenName) []*crop.Crop {
	if c, err := r.context.Catalogue.Find(strings.Join(said.words, " ")); err == nil {
		return []*crop.Crop{c}
	}
	if len(said.crops) == 1 {
		return said.crops
	}
	return slices.DeleteFunc(said.crops, func(c *crop.Crop) bool { return !r.grows(c.Key) })
}

// parts are the words that each unused token of the line is made of: two of
// "multi-sown".
func (r *reading) parts() [][]string {
	out := make([][]string, len(r.words))
	for i := range r.words {
		out[i] = nameWords(r.word(i))
	}
	return out
}

// named is where the line has all the words of a name, and how many tokens
// they take; -1 where it has not.
func named(parts [][]string, words []string) (at, tokens int) {
	for i := range parts {
		rest, k := words, i
		for k < len(parts) && len(rest) > 0 && len(parts[k]) > 0 && len(parts[k]) <= len(rest) && slices.Equal(parts[k], rest[:len(parts[k])]) {
			rest, k = rest[len(parts[k]):], k+1
		}
		if len(rest) == 0 {
			return i, k - i
		}
	}
	return -1, 0
}

func wholeNames(names []string) [][]string {
	var out [][]string
	for _, name := range names {
		out = append(out, nameWords(name))
	}
	return out
}

// looseNames are ways of saying a name with brackets: what stands in them may
// be left unfinished, and may come first. "first potatoes" are not a kind.
func looseNames(name string) [][]string {
	before, within, bracketed := strings.Cut(name, " (")
	if !bracketed {
		return nil
	}
	var out [][]string
	plant, kind := nameWords(before), nameWords(within)
	for n := 1; n <= len(kind); n++ {
		if !fillers[kind[n-1]] {
			out = append(out, slices.Concat(plant, kind[:n]), slices.Concat(kind[:n], plant))
		}
	}
	return out
}

// settleCrop chooses among the crops found; it is asked again once the place
// is known.
func (r *reading) settleCrop() {
	if len(r.found) > 0 {
		r.entry.Crop = r.meant().Key
	}
}

// meant is which of several crops a name stands for: the one that it tells from
// its kin, else the one that grows here, else the one usually meant by it.
func (r *reading) meant() *crop.Crop {
	found, spoken := r.found, r.spoken
	for _, c := range found {
		if len(spoken) > 1 && called(c, spoken) && !calledLoosely(c, spoken) {
			return c
		}
	}
	kin := r.kin()
	for _, here := range []bool{true, false} {
		for _, c := range found {
			if called(c, spoken) && (!here || r.grows(c.Key)) {
				return c
			}
		}
		if !here {
			break
		}
		for _, c := range kin {
			if r.grows(c.Key) {
				return c
			}
		}
	}
	if usual, err := r.context.Catalogue.Find(strings.Join(spoken, " ")); err == nil {
		return usual
	}
	return found[0]
}

// called says whether a name is one of a crop's own.
func called(c *crop.Crop, spoken []string) bool {
	names := slices.Concat(wholeNames(slices.Concat([]string{c.Name, c.Key}, c.OtherNames)), looseNames(c.Name))
	return slices.ContainsFunc(names, func(words []string) bool { return slices.Equal(words, spoken) })
}

// kin are the crops that a name may stand for in a garden that grows them.
func (r *reading) kin() []*crop.Crop {
	found, kin, spoken := r.found, slices.Clone(r.found), r.spoken
	for _, c := range r.context.Catalogue.Crops() { // "onions" may be those of another route that grow here, "beans" the runners
		sameDish := slices.ContainsFunc(found, func(f *crop.Crop) bool { return f.Dish == c.Dish })
		// "potatoes" and "spuds" may be second earlies, though theirs is another dish
		sameName := slices.ContainsFunc(found, func(f *crop.Crop) bool { return f.PlainName() == c.PlainName() && calledLoosely(f, spoken) })
		if !slices.Contains(kin, c) && (sameDish || sameName || endsWith(nameWords(c.Name), spoken)) {
			kin = append(kin, c)
		}
	}
	return kin
}

// calledLoosely says whether a name does not tell a crop from its kin.
func calledLoosely(c *crop.Crop, spoken []string) bool {
	return slices.ContainsFunc(append([]string{c.PlainName()}, c.GenericNames...), func(n string) bool { return slices.Equal(nameWords(n), spoken) })
}

func endsWith(name, end []string) bool {
	return len(name) > len(end) && slices.Equal(name[len(name)-len(end):], end)
}

// grows says whether a crop is planned or growing, in the place where one is
// named.
func (r *reading) grows(key string) bool {
	return slices.ContainsFunc(r.context.Standing, func(s Standing) bool {
		return s.Crop == key && (r.entry.Place == "" || s.Place == r.entry.Place) && !s.Cleared.Known()
	})
}

// shortest is the fewest letters that stand for the beginning of a name.
const shortest = 3

// beginnings reads what is left as part of a place's name or the beginning of a
// crop's.
func (r *reading) beginnings() error {
	if err := r.partOfPlace(); err != nil {
		return err
	}
	for i := range r.words {
		if r.entry.Crop == "" && r.beginsCrop(i) {
			c, _ := r.context.Catalogue.Find(r.word(i))
			r.entry.Crop = c.Key
			r.use(i, 1)
		}
	}
	return nil
}

// beginsCrop says whether a word stands for a crop, where none is known yet.
func (r *reading) beginsCrop(i int) bool {
	word := r.word(i)
	if r.entry.Crop != "" || r.context.Catalogue == nil || len(word) <= shortest || fillers[word] || numberEnd(word) > 0 {
		return false
	}
	_, err := r.context.Catalogue.Find(word)
	return err == nil
}
