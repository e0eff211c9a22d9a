package garden

import (
	"fmt"
	"strings"
)

// Nearest is the name among names that a person most likely meant by typed,
// or "" when none is close: more than a third of the letters would have to
// change.
func Nearest(typed string, names []string) string {
	best, bestCost := "", len([]rune(typed))/3+2
	for _, name := range names {
		if cost := editDistance(typed, name); cost < bestCost {
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

// editDistance counts letters to insert, drop, change or swap with the next.
func editDistance(a, b string) int {
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
