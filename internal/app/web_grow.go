package app

import (
	"haulm/internal/calendar"
	"haulm/internal/weather"
)

// Grow runs a crop through the garden's weather.
func (d *Desk) Grow(q GrowQuestion) (*GrowAnswer, error) {
	w, err := d.Weather()
	if err != nil {
		return nil, err
	}
	return w.Grow(q, d.Catalogue)
}

// Starts asks the same question for many days of the year. Days from which
// nothing can be told are nil.
func (d *Desk) Starts(q GrowQuestion, days []calendar.MonthDay) ([]*GrowAnswer, error) {
	w, err := d.Weather()
	if err != nil {
		return nil, err
	}
	answers := make([]*GrowAnswer, len(days))
	for i, day := range days {
		q.Start = day
		if answer, err := w.Grow(q, d.Catalogue); err == nil {
			answers[i] = answer
		}
	}
	return answers, nil
}

// FrostWeeks is the share of years with a frost of 0 °C or below in each of
// so many weeks from monday on, taken from the record as it was measured; NaN
// where no year tells.
func (w *Weather) FrostWeeks(monday calendar.Date, weeks int) []float64 {
	const parts = 52
	chance := weather.FrostChance(w.Measured, parts)
	out := make([]float64, weeks)
	for i := range out {
		out[i] = chance[min((monday.Add(7*i+3).YearDay()-1)/7, parts-1)]
	}
	return out
}
