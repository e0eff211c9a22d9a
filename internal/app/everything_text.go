package app

import (
	"bytes"
	"fmt"
	"strings"
)

// fileNames are the names of files that are taken already, without capitals:
// not every file system tells those.
type fileNames map[string]bool

// of makes a name out of any words and an ending, and none twice.
func (used fileNames) of(words, ending string) string {
	name := strings.Trim(strings.Map(func(r rune) rune {
		if r < ' ' || strings.ContainsRune(`/\:*?"<>|`, r) {
			return '-'
		}
		return r
	}, words), ". ")
	if name == "" {
		name = "record"
	}
	for base, i := name, 2; used[strings.ToLower(name+ending)]; i++ {
		name = fmt.Sprintf("%s-%d", base, i)
	}
	used[strings.ToLower(name+ending)] = true
	return name + ending
}

// contents is the text that says what is in each file.
func contents(files []taken) []byte {
	var b bytes.Buffer
	b.WriteString("Everything of a garden kept with Haulm, as plain files that need no Haulm to be read.\n" +
		"Text is in UTF-8; .csv opens in any spreadsheet, .toml, .json and .txt in any editor.\n" +
		"Days are written year-month-day. An empty cell means that nothing was noted.\n")
	for _, f := range files {
		if f.about != "" {
			fmt.Fprintf(&b, "\n%s\n%s", f.name, wrapped(capitalised(f.about)+"."))
		}
	}
	return b.Bytes()
}

// wrapped breaks words into indented lines that any editor shows.
func wrapped(words string) string {
	const indent, most = "   ", 90
	var b strings.Builder
	at := 0
	for _, word := range strings.Fields(words) {
		if at > 0 && at+1+len(word) > most {
			b.WriteByte('\n')
			at = 0
		}
		if at == 0 {
			b.WriteString(indent)
			at = len(indent)
		}
		b.WriteString(" " + word)
		at += 1 + len(word)
	}
	return b.String() + "\n"
}

func capitalised(words string) string { return strings.ToUpper(words[:1]) + words[1:] }
