package app

import (
	"fmt"

	"haulm/internal/crop"
	"haulm/internal/season"
)

// NextWords says what the plan begins next, where the days that jobs are told
// for ask for nothing; "" where they do, or the plan has nothing more.
func NextWords(s *season.State) string {
	if len(s.Jobs) > 0 {
		return ""
	}
	var next *season.Standing
	for i := range s.Plantings {
		p := &s.Plantings[i]
		if p.Stage == season.Waiting && p.Start > s.Today && (next == nil || p.Start < next.Start) {
			next = p
		}
	}
	if next == nil {
		return ""
	}
	day := next.Start.Format("2 January")
	if next.Start.Year() != s.Today.Year() {
		day = next.Start.Format("2 January 2006")
	}
	return fmt.Sprintf("Next in the plan: %s, %s, to be begun on %s.", crop.InSentence(next.Name), next.Where, day)
}
