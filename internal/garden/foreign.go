package garden

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/BurntSushi/toml"
)

// begins are keys of which every garden in text form has some.
var begins = []string{"name", "weather", "site", "household", "place", "place[0]"}

// foreign says that a text is no garden at all, whatever it is; nil where it has
// anything that a garden has.
func foreign(text string) error {
	if strings.HasPrefix(text, sqliteMark) {
		return errors.New("this is a garden's own file, not its text; open it with haulm --garden FILE serve, or write its text with haulm --garden FILE export")
	}
	index := indexLines(text)
	if slices.ContainsFunc(begins, func(key string) bool { _, there := index[key]; return there }) {
		return nil
	}
	return errors.New("this is no garden in text form: no line of it is one of name = …, weather = …, [site], [household] and [[place]]; " +
		"take a text that Haulm's export wrote (a diary is a table, .csv)")
}

// sqliteMark is how every SQLite file begins.
const sqliteMark = "SQLite format 3\x00"

// unreadable says which line of a text cannot be read, in words that are not the
// parser's, and how lines are written.
func unreadable(text string, err error) error {
	var syntax toml.ParseError
	if !errors.As(err, &syntax) {
		return err
	}
	line, words := lineAt(text, syntax.Position)
	where := fmt.Sprintf("line %d", line)
	if strings.Contains(syntax.Message, "already been defined") {
		return fmt.Errorf("%s: %s stands a second time; keep one of the two", where, words)
	}
	if words != "" {
		where += " (" + words + ")"
	}
	return fmt.Errorf(`%s cannot be read: a line is a name, = and a value, with text in quotes and numbers without, such as kind = "bed" or length_m = 7.2, or a heading such as [site] or [[place]]`, where)
}

// lineAt is the line of a place in the text by its number, and as it is written
// where it can be shown. A parser that stops at a line's end counts it to the
// line after; its bytes do not.
func lineAt(text string, at toml.Position) (number int, words string) {
	lines := strings.Split(text, "\n")
	number = at.Line
	if at.Start >= 0 && at.Start < len(text) {
		number = 1 + strings.Count(text[:at.Start], "\n")
	}
	if number < 1 || number > len(lines) {
		return number, ""
	}
	return number, shown(strings.TrimSpace(lines[number-1]))
}

// shown is a line as an error quotes it; "" where it holds signs that cannot be
// shown.
func shown(line string) string {
	for _, r := range line {
		if !strconv.IsPrint(r) && r != '\t' {
			return ""
		}
	}
	if letters := []rune(line); len(letters) > longestShown {
		return string(letters[:longestShown]) + "…"
	}
	return line
}

// longestShown is how much of a line an error quotes.
const longestShown = 60
