package crop

import (
	"slices"
	"strings"
	"unicode"
)

// normalise makes one spelling of the many a name has: lower case, no
// accents, hyphens or brackets, singular. It is for comparing, not showing.
func normalise(name string) string {
	words := strings.FieldsFunc(plain(name), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	for i, word := range words {
		words[i] = Singular(word)
	}
	return strings.Join(words, " ")
}

// anyOrder is normalise without regard to the order of words, so that "snap
// bean" is "bean (snap)".
func anyOrder(normal string) string {
	words := strings.Fields(normal)
	slices.Sort(words)
	return strings.Join(words, " ")
}

var accents = map[rune]string{
	'à': "a", 'á': "a", 'â': "a", 'ã': "a", 'ä': "a", 'å': "a", 'æ': "ae", 'ç': "c", 'è': "e", 'é': "e", 'ê': "e",
	'ë': "e", 'ì': "i", 'í': "i", 'î': "i", 'ï': "i", 'ñ': "n", 'ò': "o", 'ó': "o", 'ô': "o", 'õ': "o", 'ö': "o",
	'ø': "o", 'œ': "oe", 'ß': "ss", 'ù': "u", 'ú': "u", 'û': "u", 'ü': "u", 'ý': "y", 'ÿ': "y",
	'\'': "", '’': "", '‘': "", '`': "",
}

func plain(name string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(name) {
		if unicode.Is(unicode.Mn, r) { // an accent typed as a mark of its own
			continue
		}
		if as, ok := accents[r]; ok {
			b.WriteString(as)
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}

// Singular drops an English plural from a word in lower case. It need not be
// right, only the same for the name typed and the name on the list.
func Singular(word string) string {
	switch {
	case len(word) < 4, strings.HasSuffix(word, "ss"):
		return word
	case strings.HasSuffix(word, "ies"):
		return word[:len(word)-3] + "y"
	case hasSuffix(word, "oes", "shes", "ches", "xes", "sses"):
		return word[:len(word)-2]
	case strings.HasSuffix(word, "s"):
		return word[:len(word)-1]
	}
	return word
}

func hasSuffix(word string, endings ...string) bool {
	return slices.ContainsFunc(endings, func(e string) bool { return strings.HasSuffix(word, e) })
}

// distance is the Levenshtein distance: letters to change, add or drop.
func distance(a, b string) int {
	s, t := []rune(a), []rune(b)
	last := make([]int, len(t)+1)
	for j := range last {
		last[j] = j
	}
	for i, r := range s {
		corner := last[0]
		last[0] = i + 1
		for j, q := range t {
			change := corner
			if r != q {
				change++
			}
			corner = last[j+1]
			last[j+1] = min(change, last[j]+1, corner+1)
		}
	}
	return last[len(t)]
}

// InSentence is a crop's name as it stands within a sentence: "early leek",
// but "French bean".
func InSentence(name string) string {
	if name == "" {
		return name
	}
	first, _, _ := strings.Cut(name, " ")
	switch first {
	case "French", "Chinese", "Brussels", "Florence", "Jerusalem", "New":
		return name
	}
	return strings.ToLower(name[:1]) + name[1:]
}
