package cropping

import (
	"haulm/internal/crop"
	"haulm/internal/grow"
	"haulm/internal/soil"
)

// ground is what a kind of place is to a crop raised by a route.
func (k kind) ground(route *crop.Route) grow.Ground {
	g := grow.Ground{Cover: k.cover, RainFed: k.rainFed}
	if k.litres > 0 {
		g.Pot = grow.PotOf(k.litres, route)
		return g
	}
	g.Soil, _ = soil.TextureOf(k.texture) // the garden's check knows the textures
	return g
}

// savedCans are the minutes of tending a square metre in a week that a place
// spares its gardener: where nobody waters, and in pots, whose water is counted
// by itself.
func (l *Lay) savedCans(c *choice) float64 {
	if k := l.kinds[c.kind]; k.rainFed || k.litres > 0 {
		return c.crop.Labour.WaterPerM2W
	}
	return 0
}

// waterPots adds the minutes that one watered pot takes, week by week from the
// sowing, in the middle of the years.
func (l *Lay) waterPots(c *choice, minutes []float64) {
	if k := l.kinds[c.kind]; k.litres <= 0 || k.rainFed {
		return
	}
	track, err := l.track(c.crop, c.class, c.route, c.kind)
	if err != nil {
		return // the courses could not have been grown either
	}
	each := l.question.Catalogue.Constants.PotCanMinutes / float64(len(c.courses))
	for y := range c.courses {
		for _, w := range track.PotWaterings(&c.courses[y]) {
			if week := l.week(y, w.Monday) - c.sowWeek; week >= 0 && week < len(minutes) {
				minutes[week] += each * float64(w.Times)
			}
		}
	}
}
