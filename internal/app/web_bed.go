package app

import (
	"math"

	"haulm/internal/calendar"
	"haulm/internal/cropping"
)

// Stand is one planting on its stretch of a place on one day.
type Stand struct {
	No      int // index in the year's plantings
	SpreadM float64
	Stage   string // sown, not up yet; growing; picking; standing
}

// StandsOn lists what stands in a place on a day, in the order of the plan.
// A plant's spread is drawn, not modelled: from nothing when it is put in,
// or a fifth of its room when it is set out as a plant, evenly to its whole
// room at the middling first picking (our estimate; common practice spaces
// plants so that they just meet when they are ready).
func StandsOn(y *cropping.Year, place string, day calendar.Date) []Stand {
	var out []Stand
	for i := range y.Plantings {
		p := &y.Plantings[i]
		if p.Place != place || day < p.OnGround && !p.Stands || !p.Beyond && day >= p.Clear {
			continue
		}
		out = append(out, standOn(p, i, day))
	}
	return out
}

func standOn(p *cropping.Planting, no int, day calendar.Date) Stand {
	s := Stand{No: no}
	began := p.OnGround
	if p.Stands && p.Start.Known() {
		began = p.Start
	}
	grown := spreadShare(p, began, day)
	room := math.Min(p.Route.InRowCM, p.Route.BetweenRowCM)
	if room <= 0 {
		room = math.Max(p.Route.InRowCM, p.Route.BetweenRowCM)
	}
	s.SpreadM = grown * room / 100
	switch {
	case grown == 0:
		s.Stage = "sown, not up yet"
	case p.FirstPick.P90.Known() && day >= p.FirstPick.P90:
		s.Stage = "picking"
	case p.FirstPick.P10.Known() && day >= p.FirstPick.P10:
		s.Stage = "picking in some years"
	default:
		s.Stage = "growing"
	}
	return s
}

// Shares of a plant's room: a seed is up after a twelfth of its time to
// picking; a plant set out brings a fifth. Our estimates, for drawing only.
const (
	upAfterShare    = 1.0 / 12
	setOutRoomShare = 0.2
)

func spreadShare(p *cropping.Planting, began, day calendar.Date) float64 {
	ripe := p.FirstPick.P50
	if !ripe.Known() {
		ripe = p.Clear
	}
	if !ripe.Known() || ripe <= began {
		return 1
	}
	share := float64(day-began) / float64(ripe-began)
	if p.SetOut.Known() {
		return math.Min(1, setOutRoomShare+(1-setOutRoomShare)*math.Max(0, share))
	}
	if share < upAfterShare {
		return 0
	}
	return math.Min(1, share)
}
