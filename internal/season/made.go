package season

import "haulm/internal/calendar"

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
