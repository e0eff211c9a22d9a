package season

import "fmt"

// bringsNothing says that a middling year would bring next to nothing of a
// planting. Of a perennial the season ahead does not tell it.
func bringsNothing(s *Standing) bool {
	return !s.Crop.Perennial && portions(s) < rule("job.late_worth_portions")
}

// leastToldPortions is less than rounds to a portion.
const leastToldPortions = 0.5

// worthWords is what so much is worth at the table: "about 12 portions",
// "about a portion", "next to nothing".
func worthWords(portions float64) string {
	switch {
	case portions < leastToldPortions:
		return "next to nothing"
	case portions < 1.5:
		return "about a portion"
	}
	return fmt.Sprintf("about %.0f portions", portions)
}
