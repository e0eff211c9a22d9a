package garden

import (
	"fmt"
	"strings"
)

// lineIndex remembers on which line of a TOML text each table and key stands,
// so that an error can point at it. It is a reading aid, not a parser: text
// that it does not understand simply has no line.
type lineIndex map[string]int

// indexLines scans the text once. Keys are "household.people" for a table and
// "place[2].sun_hours" for the third of an array of tables.
func indexLines(text string) lineIndex {
	index := lineIndex{}
	seen := map[string]int{}
	prefix := ""
	inString := false
	for i, line := range strings.Split(text, "\n") {
		open := (strings.Count(line, `"""`)+strings.Count(line, `'''`))%2 == 1
		if inString {
			inString = !open
			continue
		}
		inString = open
		line = strings.TrimSpace(line)
		switch {
		case strings.HasPrefix(line, "[["):
			name := headerName(line, "[[", "]]")
			prefix = element(name, seen[name])
			seen[name]++
			index[prefix] = i + 1
		case strings.HasPrefix(line, "["):
			prefix = headerName(line, "[", "]")
			index.add(prefix, i+1)
		case strings.Contains(line, "="):
			key, _, _ := strings.Cut(line, "=")
			index.add(join(prefix, bare(key)), i+1)
		}
	}
	return index
}

func (index lineIndex) add(key string, line int) {
	if _, ok := index[key]; !ok {
		index[key] = line
	}
}

// at says where key stands, as words to put before a message.
func (index lineIndex) at(key string) string {
	if line, ok := index[key]; ok {
		return fmt.Sprintf("line %d: ", line)
	}
	return ""
}

func headerName(line, open, end string) string {
	name, _, _ := strings.Cut(strings.TrimPrefix(line, open), end)
	return bare(name)
}

func bare(key string) string { return strings.Trim(strings.TrimSpace(key), `"'`) }

func join(prefix, key string) string {
	if prefix == "" {
		return key
	}
	return prefix + "." + key
}

func element(name string, i int) string { return fmt.Sprintf("%s[%d]", name, i) }
