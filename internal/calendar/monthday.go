package calendar

import (
	"fmt"
	"time"
)

// MonthDay is a day of any year, such as 20 March.
type MonthDay struct {
	Month time.Month
	Day   int
}

// ParseMonthDay reads MM-DD.
func ParseMonthDay(s string) (MonthDay, error) {
	t, err := time.Parse("2006-01-02", "2000-"+s)
	if err != nil {
		return MonthDay{}, fmt.Errorf("%q is not a day of the year like 03-20", s)
	}
	return MonthDay{t.Month(), t.Day()}, nil
}

// MonthDayOf is the day of the year on which d falls.
func MonthDayOf(d Date) MonthDay {
	_, m, day := d.Civil()
	return MonthDay{m, day}
}

// In is md in the given year. The 29th of February falls on the 28th in
// years that lack it, so that a job never slips into another month.
func (md MonthDay) In(year int) Date {
	d := On(year, md.Month, md.Day)
	if d.Month() != md.Month {
		return d - 1
	}
	return d
}

// String is MM-DD.
func (md MonthDay) String() string { return fmt.Sprintf("%02d-%02d", int(md.Month), md.Day) }

// MarshalText writes MM-DD.
func (md MonthDay) MarshalText() ([]byte, error) { return []byte(md.String()), nil }

// UnmarshalText reads MM-DD.
func (md *MonthDay) UnmarshalText(text []byte) error {
	parsed, err := ParseMonthDay(string(text))
	if err != nil {
		return err
	}
	*md = parsed
	return nil
}
