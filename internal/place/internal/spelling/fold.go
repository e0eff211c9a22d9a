package spelling

import (
	"unicode"
	"unicode/utf8"
)

// lastLatin bounds the letters looked up in the table; past it letters keep
// their own form.
const lastLatin = 0x1eff

// plain holds the folded spelling of each letter up to lastLatin, or "".
var plain = func() (table [lastLatin + 1]string) {
	for _, row := range latin {
		for _, letter := range row.letters {
			table[letter] = row.plain
		}
	}
	return table
}()

// ascii folds the first 128 letters: a to z and digits to themselves in small,
// 1 for what parts words, 0 for what is left out (apostrophes join, so that
// "L'Aquila" and "LAquila" are one).
var ascii = func() (table [utf8.RuneSelf]byte) {
	for i := range table {
		switch c := byte(i); {
		case 'a' <= c && c <= 'z', '0' <= c && c <= '9':
			table[i] = c
		case 'A' <= c && c <= 'Z':
			table[i] = c + 'a' - 'A'
		case c == '\'' || c == '`':
			table[i] = dropped
		default:
			table[i] = parting
		}
	}
	return table
}()

const (
	dropped = 0
	parting = 1
)

// Fold appends the folded form of name to dst and returns the longer slice.
func Fold(dst []byte, name string) []byte {
	start := len(dst)
	word := start // where the word now being written began
	for i := 0; i < len(name); {
		c := name[i]
		if c < utf8.RuneSelf {
			i++
			switch folded := ascii[c]; folded {
			case dropped:
			case parting:
				dst, word = endWord(dst, word)
				if string(dst[start:]) == "the " { // "The Hague" is found as "Hague"
					dst, word = dst[:start], start
				}
			default:
				dst = append(dst, folded)
			}
			continue
		}
		letter, size := utf8.DecodeRuneInString(name[i:])
		i += size
		if letter <= lastLatin && plain[letter] != "" {
			dst = append(dst, plain[letter]...)
			continue
		}
		switch {
		case unicode.Is(unicode.Mn, letter), letter == '’', letter == '‘', letter == 'ʻ', letter == 'ʼ', letter == '′':
		case unicode.IsLetter(letter), unicode.IsDigit(letter):
			dst = utf8.AppendRune(dst, unicode.ToLower(letter))
		default:
			dst, word = endWord(dst, word)
		}
	}
	dst, word = endWord(dst, word)
	if word > start && word == len(dst) {
		dst = dst[:len(dst)-1] // the space after the last word
	}
	return dst
}

// String is Fold of one name as a string.
func String(name string) string { return string(Fold(nil, name)) }

// endWord closes the word that began at word: writes out an abbreviation and
// adds the space. An empty word adds nothing.
func endWord(dst []byte, word int) ([]byte, int) {
	if len(dst) == word {
		return dst, word
	}
	if last := dst[len(dst)-1]; last == 't' || last == 'e' {
		if full := fullForm(dst[word:]); full != "" {
			dst = append(dst[:word], full...)
		}
	}
	dst = append(dst, ' ')
	return dst, len(dst)
}

// fullForm writes out the abbreviations common in place names, and makes the
// neighbours' words for Saint one, since maps disagree about them. It is "" for
// other words.
func fullForm(word []byte) string {
	switch string(word) {
	case "st", "sankt", "sint":
		return "saint"
	case "ste":
		return "sainte"
	case "mt":
		return "mount"
	case "ft":
		return "fort"
	}
	return ""
}
