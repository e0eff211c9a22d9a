package season

import (
	"fmt"

	"haulm/internal/calendar"
)

// YearsWords names the years that stand for the weather to come: "30 past
// years", or "30 estimated years" of a place without a record.
func (s *State) YearsWords() string { return YearsWords(s.Years, s.Estimated) }

// YearsWords names so many years of weather.
func YearsWords(years int, estimated bool) string {
	if estimated {
		return fmt.Sprintf("%d estimated years", years)
	}
	return fmt.Sprintf("%d past years", years)
}

// SpanWords says what a span of days or weights counts.
func (s *State) SpanWords() string {
	return "A span holds " + HoldsWords(s.YearsWords()) + ". Your diary narrows it"
}

// HoldsWords says how often spans hold, and over what, given the years of
// weather that they count.
func HoldsWords(years string) string {
	return "8 times in 10: over the weather of " + years + ", and over how far kinds, gardens and single plantings lie from the book"
}

// MadeWords names the forecast that the morning goes by: "the forecast of
// 06:00", with its day where that is not today; "" where there is none.
func (s *State) MadeWords() string {
	if s.Made.IsZero() {
		return ""
	}
	if calendar.FromTime(s.Made) == s.Today {
		return "the forecast of " + s.Made.Format("15:04")
	}
	return "the forecast of " + s.Made.Format("15:04 on 2 January")
}
