package app

import (
	"haulm/internal/calendar"
	"haulm/internal/ground"
)

// Resting is a rotation group kept off a stretch of a place, and why.
type Resting struct {
	FromCM, ToCM int
	Ban          ground.Ban
}

// Resting lists which groups rest on which stretches of a place in the season
// of day, in order along it; neighbouring strips with one ban are joined.
func (d *Desk) Resting(place string, day calendar.Date) ([]Resting, error) {
	g, err := d.Garden()
	if err != nil {
		return nil, err
	}
	bans, err := ground.Bans(g, place, d.Catalogue.Crop, calendar.SeasonYear(day, g.Site.South()))
	if err != nil {
		return nil, err
	}
	p, _ := g.Place(place)
	var out []Resting
	for strip, resting := range bans {
		for _, ban := range resting {
			from, to := ground.StripCM(p, strip), ground.StripCM(p, strip+1)
			if i := joined(out, ban, from); i >= 0 {
				out[i].ToCM = to
				continue
			}
			out = append(out, Resting{from, to, ban})
		}
	}
	return out, nil
}

func joined(out []Resting, ban ground.Ban, from int) int {
	for i := range out {
		if out[i].Ban == ban && out[i].ToCM == from {
			return i
		}
	}
	return -1
}
