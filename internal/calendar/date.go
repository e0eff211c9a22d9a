// Package calendar holds civil dates and the gardener's years. It knows no
// clock and no time zone: a Date is a day in the garden, wherever that is.
//
// Read date.go first, then season.go.
package calendar

import (
	"errors"
	"fmt"
	"strings"
	"time"
)

// Date is a civil day, counted in days from 1970-01-01 in the proleptic
// Gregorian calendar. Differences of Dates are days.
type Date int32

// None is the Date of something that never came.
const None Date = -1 << 31

// On returns the Date of year, month and day; out-of-range days roll over as
// in time.Date.
func On(year int, month time.Month, day int) Date {
	return FromTime(time.Date(year, month, day, 0, 0, 0, 0, time.UTC))
}

// FromTime returns the civil day that t shows in its own zone.
func FromTime(t time.Time) Date {
	y, m, d := t.Date()
	return Date(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix() / daySeconds)
}

// daySeconds divides every midnight in UTC without a rest.
const daySeconds = 24 * 60 * 60

// Parse reads an ISO date, 2027-03-20.
func Parse(s string) (Date, error) {
	t, err := time.Parse(time.DateOnly, s)
	var bad *time.ParseError
	switch {
	case err == nil:
		return FromTime(t), nil
	case errors.As(err, &bad) && strings.HasSuffix(bad.Message, "out of range"):
		return None, fmt.Errorf("%q is no day of the calendar; write one such as 2027-03-20", s)
	}
	return None, fmt.Errorf("%q is not a date like 2027-03-20", s)
}

func (d Date) time() time.Time { return time.Unix(int64(d)*daySeconds, 0).UTC() }

// Known says whether d is a day at all.
func (d Date) Known() bool { return d != None }

// Civil splits d into year, month and day of the month.
func (d Date) Civil() (year int, month time.Month, day int) { return d.time().Date() }

// Year is the calendar year of d.
func (d Date) Year() int { return d.time().Year() }

// Month is the calendar month of d.
func (d Date) Month() time.Month { return d.time().Month() }

// YearDay is the day of the year, 1 to 366.
func (d Date) YearDay() int { return d.time().YearDay() }

// Weekday is the day of the week of d.
func (d Date) Weekday() time.Weekday { return d.time().Weekday() }

// Add returns the day n days after d.
func (d Date) Add(n int) Date { return d + Date(n) }

// Monday is the first day of d's ISO week.
func (d Date) Monday() Date { return d - Date((int(d.Weekday())+6)%7) }

// String is the ISO form, or an empty string for None.
func (d Date) String() string {
	if d == None {
		return ""
	}
	return d.time().Format(time.DateOnly)
}

// Format lays d out as time.Format does.
func (d Date) Format(layout string) string {
	if d == None {
		return ""
	}
	return d.time().Format(layout)
}

// MarshalText writes the ISO form.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads the ISO form; empty text is None.
func (d *Date) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*d = None
		return nil
	}
	parsed, err := Parse(string(text))
	if err != nil {
		return err
	}
	*d = parsed
	return nil
}

// MarshalJSON writes the ISO form, or null for a day that never came.
func (d Date) MarshalJSON() ([]byte, error) {
	if d == None {
		return []byte("null"), nil
	}
	return []byte(`"` + d.String() + `"`), nil
}

// UnmarshalJSON reads what MarshalJSON writes.
func (d *Date) UnmarshalJSON(b []byte) error {
	if string(b) == "null" {
		*d = None
		return nil
	}
	if len(b) < 2 || b[0] != '"' || b[len(b)-1] != '"' {
		return fmt.Errorf("%s is not a date like \"2027-03-20\"", b)
	}
	return d.UnmarshalText(b[1 : len(b)-1])
}

// DaysIn is how many days a year has.
func DaysIn(year int) int { return int(On(year+1, time.January, 1) - On(year, time.January, 1)) }
