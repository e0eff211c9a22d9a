package app

import (
	"errors"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/cropping"
	"haulm/internal/garden"
	"haulm/internal/season"
)

// FillQuestion asks what can still go into a place.
type FillQuestion struct {
	Place        string // its name, or the beginning of one place's name only
	FromCM, ToCM int    // both 0 = the longest stretch that is free today
	Day          calendar.Date
}

// FillAnswer is the gap and what can fill it, the best first.
type FillAnswer struct {
	Gap    season.Gap     `json:"gap"`
	Offers []season.Offer `json:"offers"`
	Holds  string         `json:"spans_hold"` // how often days and amounts hold, and over what
}

// Fill tells what can still go into a gap today, and what it would add to the
// table where that is short.
func (d *Desk) Fill(q FillQuestion) (*FillAnswer, error) {
	in, err := d.seasonInput(TodayQuestion{Day: q.Day})
	if err != nil {
		return nil, err
	}
	return d.fill(in, q)
}

func (d *Desk) fill(in season.Input, q FillQuestion) (*FillAnswer, error) {
	name, err := placeNamed(in.Garden, q.Place)
	if err != nil {
		return nil, err
	}
	question := season.FillQuestion{Place: name, FromCM: q.FromCM, ToCM: q.ToCM}
	planned, err := d.Planned()
	switch {
	case err == nil:
		question.Short = shortness(planned.Year.Table)
	case !errors.Is(err, ErrNoPlan):
		return nil, err
	}
	gap, offers, err := season.Fill(in, question)
	if err != nil {
		return nil, err
	}
	years := "past years"
	if in.Record.Estimated {
		years = "estimated years"
	}
	return &FillAnswer{Gap: gap, Offers: offers, Holds: season.HoldsWords(years)}, nil
}

// placeNamed is the place of a name, or of the beginning of one name only.
func placeNamed(g *garden.Garden, said string) (string, error) {
	if _, ok := g.Place(said); ok {
		return said, nil
	}
	var begins, names []string
	for _, p := range g.Places {
		names = append(names, p.Name)
		if said != "" && strings.HasPrefix(strings.ToLower(p.Name), strings.ToLower(said)) {
			begins = append(begins, p.Name)
		}
	}
	if len(begins) == 1 {
		return begins[0], nil
	}
	return "", errors.New("no place is called \"" + said + "\"; the places are " + strings.Join(names, ", "))
}

// shortness is the share of the need that the planned table leaves unmet in
// the middling year, by day; what lies beyond the plan counts as half short.
func shortness(table []cropping.Week) func(calendar.Date) float64 {
	const beyond = 0.5
	return func(day calendar.Date) float64 {
		if len(table) == 0 {
			return beyond
		}
		i := int(day-table[0].Monday) / 7
		if day < table[0].Monday || i >= len(table) || table[i].Need <= 0 {
			return beyond
		}
		return max(0, 1-table[i].Portions.P50/table[i].Need)
	}
}
