package garden

import (
	"fmt"
	"strings"

	"haulm/internal/crop"
)

// Nearest is the name among names that a person most likely meant by typed,
// or "" when none is close: more than a third of the letters would have to
// change.
func Nearest(typed string, names []string) string {
	best, bestCost := "", len([]rune(typed))/3+2
	for _, name := range names {
		if cost := crop.Distance(typed, name); cost < bestCost {
			best, bestCost = name, cost
		}
	}
	return best
}

// hint is " Did you mean …?" or a list when nothing is near and the list is short.
func hint(typed string, names []string) string {
	if near := Nearest(typed, names); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	if len(names) <= 16 {
		return "known here: " + strings.Join(names, ", ")
	}
	return "look it up in the list of crops"
}
