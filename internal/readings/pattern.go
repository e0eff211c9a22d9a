package readings

import (
	"regexp"
	"sync"
)

// pattern is a regular expression that is compiled when it is first asked: of
// all that the program is started for, little reads a record.
type pattern func() *regexp.Regexp

func newPattern(text string) pattern {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}

// MatchString is that of regexp.Regexp.
func (p pattern) MatchString(text string) bool { return p().MatchString(text) }

// FindStringSubmatch is that of regexp.Regexp.
func (p pattern) FindStringSubmatch(text string) []string { return p().FindStringSubmatch(text) }
