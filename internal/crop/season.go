package crop

import "haulm/internal/calendar"

// Window is when the route is usually begun in the north, both days included;
// ok is false where it may be begun on any day.
func (r *Route) Window() (from, to calendar.MonthDay, ok bool) {
	from, err1 := calendar.ParseMonthDay(r.FromMonthDay)
	to, err2 := calendar.ParseMonthDay(r.ToMonthDay)
	return from, to, err1 == nil && err2 == nil // the loader has checked both
}

// halfYearDays is how far the south's year lies off the north's.
const halfYearDays = 182

// InSeason says whether the route is ever begun on such a day of the year.
func (r *Route) InSeason(day calendar.Date, south bool) bool {
	from, to, ok := r.Window()
	if !ok {
		return true
	}
	if south {
		day = day.Add(halfYearDays)
	}
	a, b, d := from.In(2001).YearDay(), to.In(2001).YearDay(), day.YearDay()
	if a <= b {
		return d >= a && d <= b
	}
	return d >= a || d <= b
}
