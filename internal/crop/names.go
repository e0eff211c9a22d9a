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

// Distance counts the slips between two names as typed: letters to insert,
// drop, change or swap with the next.
func Distance(a, b string) int {
	s, t := []rune(a), []rune(b)
	rows := make([][]int, len(s)+1)
	for i := range rows {
		rows[i] = make([]int, len(t)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(s); i++ {
		for j := 1; j <= len(t); j++ {
			change := 1
			if s[i-1] == t[j-1] {
				change = 0
			}
			rows[i][j] = min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+change)
			if i > 1 && j > 1 && s[i-1] == t[j-2] && s[i-2] == t[j-1] {
				rows[i][j] = min(rows[i][j], rows[i-2][j-2]+1)
			}
		}
	}
	return rows[len(s)][len(t)]
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
