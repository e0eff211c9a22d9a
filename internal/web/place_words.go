package web

import (
	"fmt"
	"net/url"

	"haulm/internal/calendar"
	"haulm/internal/garden"
	"haulm/internal/unit"
)

// placeNote is a place in a few words: "6 × 1.2 m, 7.5 h of sun, fleece".
func placeNote(p garden.Place, u unit.System) string {
	note := fmt.Sprintf("%s × %s", number(u, p.LengthM), u.Length(unit.Metre(p.WidthM)))
	if p.Kind == garden.Pots {
		note = fmt.Sprintf("%s of %s l", counted(p.Pots, "pot", "pots"), unit.Number(p.Litres, 0))
	}
	note += ", " + unit.Number(p.SunHours, 1) + " h sun"
	if p.Cover != "" {
		note += ", " + p.Cover
	}
	return note
}

// groundNote is a place in few words, for a figure that draws its length.
func groundNote(p garden.Place, u unit.System) string {
	note := u.Length(unit.Metre(p.WidthM)) + " wide, "
	if p.Kind == garden.Pots {
		note = unit.Number(p.Litres, 0) + " l each, "
	}
	note += unit.Number(p.SunHours, 1) + " h sun"
	if p.Cover != "" {
		note += ", " + p.Cover
	}
	return note
}

// number is a length without its unit.
func number(u unit.System, metres float64) string {
	if u == unit.Imperial {
		return unit.Number(float64(unit.Metre(metres).Feet()), 1)
	}
	return unit.Number(metres, 1)
}

// placeHref is a place's page, on a day where one is known.
func placeHref(name string, day calendar.Date) string {
	q := url.Values{"place": {name}}
	if day.Known() {
		q.Set("day", day.String())
	}
	return "/ground?" + q.Encode()
}
