package diary

import (
	"fmt"
	"slices"
	"strings"

	"haulm/internal/crop"
)

func sortNames(names []string) { slices.Sort(names) }

// findPlace takes a place's whole name out of the line, the longest first.
func (r *reading) findPlace() {
	best, at, length := "", -1, 0
	for _, p := range r.context.Places {
		words := strings.Fields(plain(p.Name))
		if i := r.find(words, false); i >= 0 && len(words) > length {
			best, at, length = p.Name, i, len(words)
		}
	}
	if length > 0 {
		r.entry.Place = best
		r.use(at, length)
	}
}

// groundWords are what places are commonly called.
var groundWords = map[string]bool{"bed": true, "border": true, "pot": true, "pots": true, "plot": true, "row": true, "frame": true, "tunnel": true, "greenhouse": true}

// numberedPlace refuses "bed 2" in a garden that has none, so that the number
// is not read as an amount.
func (r *reading) numberedPlace() error {
	if r.entry.Place != "" {
		return nil
	}
	for i := range r.words {
		if !groundWords[r.word(i)] || numberEnd(r.word(i+1)) == 0 || isUnitFor(r.entry.Kind, r.word(i+2)) {
			continue
		}
		said := r.words[i].typed + " " + r.words[i+1].typed
		var begins []string
		for _, p := range r.context.Places {
			if strings.HasPrefix(plain(p.Name), plain(said)) {
				begins = append(begins, p.Name)
			}
		}
		if len(begins) == 1 {
			r.entry.Place = begins[0]
			r.use(i, 2)
			return nil
		}
		return fmt.Errorf("%sno place is called %q; the places are %s", r.understood(), said, r.placeList())
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

// findCrop takes a crop's whole name, the longest first, whichever of its
// names it is.
func (r *reading) findCrop() {
	if r.context.Catalogue == nil {
		return
	}
	var found []*crop.Crop
	at, length := -1, 0
	for _, c := range r.context.Catalogue.Crops() {
		for _, name := range slices.Concat([]string{c.Name, c.Key}, c.OtherNames, c.GenericNames, []string{c.Dish}) {
			words := nameWords(name)
			if len(words) < length || len(words) == 0 {
				continue
			}
			i := r.find(words, true)
			switch {
			case i < 0:
			case len(words) > length || i < at:
				found, at, length = []*crop.Crop{c}, i, len(words)
			case i == at && !slices.Contains(found, c):
				found = append(found, c)
			}
		}
	}
	if length == 0 {
		return
	}
	r.use(at, length)
	r.found, r.spoken = found, nameWordsOf(r.words[at:at+length])
	r.settleCrop()
}

// settleCrop chooses among the crops found; it is asked again once the place
// is known.
func (r *reading) settleCrop() {
	if len(r.found) > 0 {
		r.entry.Crop = r.meant().Key
	}
}

// meant is which of several crops a name stands for: the one that grows here,
// else the one usually meant by it.
func (r *reading) meant() *crop.Crop {
	found, kin, spoken := r.found, slices.Clone(r.found), r.spoken
	for _, c := range r.context.Catalogue.Crops() { // "onions" may be those of another route that grow here, "beans" the runners
		sameDish := slices.ContainsFunc(found, func(f *crop.Crop) bool { return f.Dish == c.Dish })
		// "potatoes" and "spuds" may be second earlies, though theirs is another dish
		sameName := slices.ContainsFunc(found, func(f *crop.Crop) bool { return f.PlainName() == c.PlainName() && calledLoosely(f, spoken) })
		if !slices.Contains(kin, c) && (sameDish || sameName || endsWith(nameWords(c.Name), spoken)) {
			kin = append(kin, c)
		}
	}
	exact := func(c *crop.Crop) bool {
		return slices.ContainsFunc(slices.Concat([]string{c.Name, c.Key}, c.OtherNames), func(n string) bool { return slices.Equal(nameWords(n), spoken) })
	}
	for _, here := range []bool{true, false} {
		for _, c := range found {
			if exact(c) && (!here || r.grows(c.Key)) {
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

// calledLoosely says whether a name does not tell a crop from its kin.
func calledLoosely(c *crop.Crop, spoken []string) bool {
	return slices.ContainsFunc(append([]string{c.PlainName()}, c.GenericNames...), func(n string) bool { return slices.Equal(nameWords(n), spoken) })
}

func endsWith(name, end []string) bool {
	return len(name) > len(end) && slices.Equal(name[len(name)-len(end):], end)
}

func nameWordsOf(words []token) []string {
	var out []string
	for _, w := range words {
		out = append(out, crop.Singular(w.plain))
	}
	return out
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

// beginnings reads what is left as the beginning of a place's or a crop's
// name.
func (r *reading) beginnings() {
	for i := range r.words {
		word := r.word(i)
		if len(word) < shortest || fillers[word] || numberEnd(word) > 0 {
			continue
		}
		if r.entry.Place == "" && r.beginsPlace(i) {
			continue
		}
		if r.entry.Crop == "" && r.context.Catalogue != nil && len(word) > shortest {
			if c, err := r.context.Catalogue.Find(word); err == nil {
				r.entry.Crop = c.Key
				r.use(i, 1)
			}
		}
	}
}

func (r *reading) beginsPlace(i int) bool {
	said, n := r.word(i), 1
	if groundWords[r.word(i+1)] {
		said, n = said+" "+r.word(i+1), 2
	}
	var begins []string
	for _, p := range r.context.Places {
		if strings.HasPrefix(plain(p.Name), said) {
			begins = append(begins, p.Name)
		}
	}
	if len(begins) != 1 {
		return false
	}
	r.entry.Place = begins[0]
	r.use(i, n)
	return true
}
