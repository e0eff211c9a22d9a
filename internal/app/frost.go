package app

import (
	"haulm/internal/calendar"
	"haulm/internal/weather"
)

// FrostQuestion asks for the odds of frost in a record.
type FrostQuestion struct {
	From, To int // season years, both included; 0 = all on record
	AtC      float64
}

// FrostAnswer is the odds of frost. Dates are days of the year; null where too
// few years have such a frost.
type FrostAnswer struct {
	Years             int          `json:"years"`
	YearsWithoutFrost int          `json:"years_without_frost"`
	AtC               float64      `json:"at_c"`
	LastSpring        MonthDayOdds `json:"last_spring"`
	FirstAutumn       MonthDayOdds `json:"first_autumn"`
	FrostFreeDays     *DayOdds     `json:"frost_free_days"`
	Estimated         bool         `json:"estimated"`
	Source            string       `json:"source,omitempty"`

	Odds weather.FrostOdds `json:"-"` // year by year, for drawing
}

// MonthDayOdds are days of the year by which something has come in 1, 5 and 9
// years of 10.
type MonthDayOdds struct {
	P10 *calendar.MonthDay `json:"p10"`
	P50 *calendar.MonthDay `json:"p50"`
	P90 *calendar.MonthDay `json:"p90"`
}

// DayOdds are counts of days in 1, 5 and 9 years of 10.
type DayOdds struct {
	P10 int `json:"p10"`
	P50 int `json:"p50"`
	P90 int `json:"p90"`
}

// Frost tells the odds of frost from the record as it was measured: a mended
// night is no evidence of frost.
func (w *Weather) Frost(q FrostQuestion) FrostAnswer {
	odds := weather.Frost(w.Measured, weather.FrostOptions{From: q.From, To: q.To, AtC: q.AtC, South: w.Measured.Site.South()})
	answer := FrostAnswer{
		Years: odds.YearsCounted, YearsWithoutFrost: odds.YearsWithoutFrost, AtC: q.AtC,
		LastSpring: monthDayOdds(odds.LastSpring), FirstAutumn: monthDayOdds(odds.FirstAutumn),
		Estimated: w.Measured.Estimated, Source: w.Measured.Source, Odds: odds,
	}
	if free := odds.FreeDays; free.P50 >= 0 {
		answer.FrostFreeDays = &DayOdds{free.P10, free.P50, free.P90}
	}
	return answer
}

func monthDayOdds(q weather.Quantiles) MonthDayOdds { return MonthDayOdds{q.P10, q.P50, q.P90} }
