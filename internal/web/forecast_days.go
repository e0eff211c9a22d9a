package web

import (
	"math"

	"haulm/internal/calendar"
	"haulm/internal/forecast"
	"haulm/internal/unit"
)

// forecastDay is one day of the forecast in words.
type forecastDay struct {
	Day, Low, High, Rain string
	Frost                bool // the air is to freeze
}

// forecastDays are the days of a forecast from today on; of a day that it does
// not cover whole, the day's name says so.
func forecastDays(days []forecast.Day, today calendar.Date, u unit.System) []forecastDay {
	var out []forecastDay
	for _, d := range days {
		if d.Date < today {
			continue
		}
		line := forecastDay{Day: d.Date.Format("Mon 2 Jan"), Low: "–", High: "–", Rain: "–", Frost: d.TminC <= 0}
		if !math.IsNaN(d.TminC) {
			line.Low, line.High = u.Temp(unit.Celsius(d.TminC)), u.Temp(unit.Celsius(d.TmaxC))
		}
		if !math.IsNaN(d.RainMM) {
			line.Rain = u.Rain(unit.Millimetre(d.RainMM))
		}
		if !d.Whole() {
			line.Day += ", in part"
		}
		out = append(out, line)
	}
	return out
}

// coldest is the lowest temperature ahead with its day: "−2.5 °C on Monday 17
// May"; "" where none is known.
func coldest(days []forecast.Day, today calendar.Date, u unit.System) string {
	low := forecast.Day{Date: noDay}
	for _, d := range days {
		if d.Date >= today && !math.IsNaN(d.TminC) && (!low.Date.Known() || d.TminC < low.TminC) {
			low = d
		}
	}
	if !low.Date.Known() {
		return ""
	}
	return u.Temp(unit.Celsius(low.TminC)) + " on " + low.Date.Format("Monday 2 January")
}
