package app

import (
	"haulm/internal/calendar"
	"haulm/internal/cropping"
)

// Going is the plan's year as it goes on: what was really picked, what stands
// re-grown, and what is still planned.
type Going struct {
	Day     calendar.Date
	Year    *cropping.Year // its Now is the week of Day
	Assumed bool           // what was not noted is taken as done as planned
}

// Going tells the plan's year from a day within it (None: today); nil where the
// day lies before the plan or after its end.
func (d *Desk) Going(day calendar.Date) (*Going, error) {
	planned, err := d.Planned()
	if err != nil {
		return nil, err
	}
	day = d.orToday(day)
	if day <= planned.Year.From || day >= planned.Year.From.Add(7*planned.Year.Weeks) {
		return nil, nil
	}
	s, err := d.restStart(RestQuestion{Day: day})
	if err != nil {
		return nil, err
	}
	s.question.Only = true
	lay, err := cropping.NewLay(s.question)
	if err != nil {
		return nil, err
	}
	ahead, _ := lay.Match(s.ahead)
	told, err := toldAs(lay, ahead)
	if err != nil {
		return nil, err
	}
	return &Going{Day: day, Year: told.Year, Assumed: s.assumed}, nil
}
