package season

import (
	"haulm/internal/calendar"
	"haulm/internal/diary"
	"haulm/internal/grow"
)

// A perennial that was planted in an earlier season is not grown from its
// planting but from the new year of the season it is in, or of the next once
// this one's picking is over.

// newYearOf is the new year of today's season for a perennial that has stood
// since an earlier one; None for all else.
func newYearOf(in *Input, p *Planting) calendar.Date {
	south := in.Garden.Site.South()
	this := calendar.SeasonYear(in.Today, south)
	if !p.Crop.Perennial || !p.Stands || !p.Start.Known() || calendar.SeasonYear(p.Start, south) >= this {
		return calendar.None
	}
	return calendar.SeasonStart(this, south)
}

// restReachDays is how far before its new year an established perennial's
// weather is looked at, for the cold of its rest: as far as package grow
// searches, and a day or two to spare.
const restReachDays = grow.RestSearchDays + 2

// weatherFrom is the day from which a planting wants weather.
func (d *deeds) weatherFrom() calendar.Date {
	if d.newYear.Known() {
		return d.newYear.Add(-restReachDays)
	}
	return d.begun
}

// ofSeason says whether an entry speaks of the season that a planting is in:
// what an old plant did in earlier years does not.
func (d *deeds) ofSeason(e *diary.Entry) bool {
	return !d.newYear.Known() || e.Day >= d.newYear || e.Kind != diary.Picked && e.Kind != diary.Up && e.Kind != diary.Flowering && e.Kind != diary.Stored
}

// old grows an established perennial in strand n from its new year. It has no
// day of coming up but that.
func (g *grower) old(track *grow.Track, p *Planting, d deeds, n int, c *grow.Course) {
	south := g.in.Garden.Site.South()
	season := calendar.SeasonYear(d.newYear, south) - calendar.SeasonYear(p.Start, south)
	track.EstablishedInto(c, g.splice.on(n, d.newYear), season)
	c.Emergence, c.Clear = c.Start, calendar.None // the plant stays
	if c.Mishap.Kind == grow.TooYoung {
		c.RanOut = true // nothing is asked of it yet
	}
}

// turn moves an established perennial on to its next season once the picking
// of this one is over in nine years of ten.
func (g *grower) turn(track *grow.Track, p *Planting, d deeds) deeds {
	if !d.newYear.Known() {
		return d
	}
	if !p.Route.Raised || !d.out.Known() {
		d.out = d.begun
	}
	var lasts []float64
	g.each(track, p, d, func(n int, c *grow.Course) {
		if c.LastPick.Known() {
			lasts = append(lasts, dayNumber(g.splice.real(n, c.LastPick)))
		}
	})
	if len(lasts) > 0 && oddsOf(lasts).P90 >= g.in.Today {
		return d
	}
	south := g.in.Garden.Site.South()
	d.newYear = calendar.SeasonStart(calendar.SeasonYear(d.newYear, south)+1, south)
	d.firstPick, d.lastPick, d.up, d.stored = calendar.None, calendar.None, calendar.None, calendar.None
	d.kg, d.picks, d.unweighed = 0, nil, 0
	return d
}

// fewestPicks is how many days of picking show how often a crop is gone over.
const fewestPicks = 3

// pickedEvery is the days between pickings that the diary shows; 0 where it
// shows too few.
func (d *deeds) pickedEvery() float64 {
	days := map[calendar.Date]bool{}
	for _, day := range d.picks {
		days[day] = true
	}
	if len(days) < fewestPicks {
		return 0
	}
	return float64(d.lastPick-d.firstPick) / float64(len(days)-1)
}
