package web

import (
	"haulm/internal/calendar"
	"haulm/internal/cropping"
	"haulm/internal/season"
)

// dayIn is "2 Jan", with its year where that is not the one the reader is in:
// a plan reaches into the next, and its January is not the one gone by.
func dayIn(d calendar.Date, year int) string {
	if d.Year() == year {
		return dayShort(d)
	}
	return d.Format("2 Jan 2006")
}

// pickIn is between which days a first picking comes 8 times in 10, where it
// comes so often.
func pickIn(o season.Odds, year int) string {
	switch {
	case o.P90.Known():
		return daySpan(o.P10, o.P90, year)
	case o.P50.Known():
		return "by " + dayIn(o.P50, year) + ", 5 times in 10"
	case o.P10.Known():
		return "by " + dayIn(o.P10, year) + ", once in 10"
	}
	return "–"
}

// cutShort says whether the season ended a planting before it could give: its
// ground was free before its first picking.
func cutShort(p *cropping.Planting) bool {
	return !p.Beyond && p.Clear.Known() && p.FirstPick.P10.Known() && p.Clear < p.FirstPick.P10
}
