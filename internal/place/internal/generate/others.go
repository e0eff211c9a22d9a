package main

import (
	"slices"
	"strings"
	"unicode"

	"haulm/internal/place/internal/spelling"
)

// mostOthers is how many other spellings a place of some size keeps. GeoNames
// lists its names without their language, so that the choice goes by how many
// of the listed names look alike (see otherNames); larger places are looked for
// from more languages.
func mostOthers(people int) int {
	switch {
	case people >= 100_000:
		return 30
	case people >= 15_000:
		return 6
	}
	return 2
}

// exactFrom is the size from which a spelling one letter away is kept too
// ("Roma" beside "Rome"); for smaller places the search's forgiveness of typing
// errors must do.
const exactFrom = 100_000

// spelt is a spelling with its folded form and how many listed names support it.
type spelt struct {
	text    string
	folded  string
	support int
}

// otherNames picks the other spellings worth keeping, most supported first.
func otherNames(r row) (names []string) {
	candidates := spellings(r)
	slices.SortStableFunc(candidates, func(a, b spelt) int { return b.support - a.support })
	kept := []string{spelling.String(r.name)}
	for _, c := range candidates {
		if len(names) == mostOthers(r.people) {
			break
		}
		if slices.ContainsFunc(kept, func(k string) bool { return tooAlike(k, c.folded, r.people) }) {
			continue
		}
		kept = append(kept, c.folded)
		names = append(names, c.text)
	}
	return names
}

// tooAlike says that a spelling adds nothing to one already kept.
func tooAlike(kept, folded string, people int) bool {
	switch {
	case kept == folded, strings.HasPrefix(folded, kept+" "):
		return true // the same, or with a word more ("Cork city")
	case people >= exactFrom:
		return false
	}
	return strings.HasPrefix(kept, folded+" ") || spelling.Distance([]byte(kept), []byte(folded), 1) <= 1
}

// spellings lists the usable other names in the order of their folded form,
// each in its shortest form (GeoNames adds one without accents to most, and
// which accents are a language's own it does not say), with its support: the
// names that fold to it count two, those one letter away one.
func spellings(r row) (list []spelt) {
	for _, text := range r.others {
		text = strings.TrimSpace(text)
		if !usable(text) {
			continue
		}
		folded := spelling.String(text)
		if i := slices.IndexFunc(list, func(s spelt) bool { return s.folded == folded }); i >= 0 {
			list[i].support += 2
			if len(text) < len(list[i].text) {
				list[i].text = text
			}
			continue
		}
		list = append(list, spelt{text, folded, 2})
	}
	own := make([]int, len(list))
	for i, s := range list {
		for k, other := range list {
			if i != k && spelling.Distance([]byte(s.folded), []byte(other.folded), 1) == 1 {
				own[i]++
			}
		}
	}
	for i := range list {
		list[i].support += own[i]
	}
	slices.SortFunc(list, func(a, b spelt) int { return strings.Compare(a.folded, b.folded) })
	return list
}

// titled are words that GeoNames sets before a name without being part of it.
var titled = []string{"City of ", "Town of ", "Village of ", "Township of ", "Borough of ", "Gemeente ", "Lungsod ng ", "Gorad ", "Gorod "}

// usable keeps names in Latin letters that begin with a capital: GeoNames mixes
// in airport codes ("MUC") and machine transliterations ("mi'unikha", "Kel'n").
func usable(text string) bool {
	if len(text) < 3 || len(text) > 40 || text == strings.ToUpper(text) && len(text) <= 5 {
		return false
	}
	if slices.ContainsFunc(titled, func(t string) bool { return strings.HasPrefix(text, t) }) {
		return false
	}
	first, before := true, ' '
	for _, letter := range text {
		switch {
		case strings.ContainsRune(" -.", letter), isApostrophe(letter):
			before = letter
			continue
		case !unicode.Is(unicode.Latin, letter):
			return false
		case first && !unicode.IsUpper(letter):
			return false
		case isApostrophe(before) && unicode.IsLower(letter) && !strings.ContainsRune("aeiouyh", letter):
			return false // a soft sign
		}
		first, before = false, letter
	}
	return !first && !isApostrophe(before)
}

func isApostrophe(letter rune) bool { return letter == '\'' || letter == '’' }
