package weather

import "haulm/internal/calendar"

// What the tests against real records, which stand outside the package, need
// of its inside.

const OverlayYear = overlayYear

func (o *FrostOdds) Offset(d calendar.Date) int { return o.offset(d) }

func (o *FrostOdds) MonthDay(offset float64) *calendar.MonthDay { return o.monthDay(offset) }
