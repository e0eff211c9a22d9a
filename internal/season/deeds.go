package season

import (
	"math"

	"haulm/internal/calendar"
	"haulm/internal/diary"
)

// deeds is what the diary says of one planting.
type deeds struct {
	begun, up, out, flowered, firstPick, lastPick, cleared calendar.Date
	stored                                                 calendar.Date
	newYear                                                calendar.Date // of the season that an established perennial is grown in; None of all else
	lost                                                   bool
	stands                                                 float64 // share of the plants that is left
	kg                                                     float64
	picks                                                  []calendar.Date
	unweighed                                              int // pickings of which no weight was noted
	covered, mulched                                       bool
	last                                                   map[diary.Kind]calendar.Date
	times                                                  map[diary.Kind]int
	water                                                  []watering
	skipped                                                []string // jobs not to be asked again
}

type watering struct {
	day    calendar.Date
	litres float64
	shared bool // noted for the place: the planting has its share of it
}

// newDeeds are those of a planting of which nothing is noted.
func newDeeds() deeds {
	none := calendar.None
	return deeds{begun: none, up: none, out: none, flowered: none, firstPick: none, lastPick: none, cleared: none, stored: none, newYear: none, stands: 1,
		last: map[diary.Kind]calendar.Date{}, times: map[diary.Kind]int{}}
}

// standsOn says whether the planting was in its ground on a day, as far as the
// diary has been read.
func (d *deeds) standsOn(p *Planting, day calendar.Date) bool {
	from := d.groundFrom(p)
	return from.Known() && from <= day && !d.cleared.Known()
}

// groundFrom is the day the planting took its ground.
func (d *deeds) groundFrom(p *Planting) calendar.Date {
	if p.Route.Raised {
		return d.out
	}
	return d.begun
}

// take adds one entry.
func (d *deeds) take(p *Planting, e *diary.Entry) {
	d.last[e.Kind] = e.Day
	d.times[e.Kind]++
	switch e.Kind {
	case diary.Sown:
		d.begun = e.Day
	case diary.Planted:
		d.plant(p, e.Day)
	case diary.Up:
		if !d.up.Known() {
			d.up = e.Day
		}
	case diary.Flowering:
		if !d.flowered.Known() {
			d.flowered = e.Day
		}
	case diary.Picked:
		if !d.firstPick.Known() {
			d.firstPick = e.Day
		}
		d.lastPick, d.picks = e.Day, append(d.picks, e.Day)
		if kg := e.Kg(); !math.IsNaN(kg) {
			d.kg += kg
		} else {
			d.unweighed++
		}
	case diary.Lost:
		d.lose(p, e)
	case diary.Cleared:
		d.cleared = e.Day
	case diary.Stored:
		d.stored = e.Day
	case diary.Covered:
		d.covered = true
	case diary.Uncovered:
		d.covered = false
	case diary.Mulched:
		d.mulched = true
	case diary.Watered:
		if l := e.Litres(); !math.IsNaN(l) {
			d.water = append(d.water, watering{e.Day, l, e.Planting == ""})
		}
	case diary.Skipped:
		d.skipped = append(d.skipped, e.Text)
	}
}

// plant takes a planting out: of raised plants it is the setting out, of sets,
// tubers and the like the beginning. Plants that were not sown here were
// bought in.
func (d *deeds) plant(p *Planting, day calendar.Date) {
	if !p.Route.Raised {
		d.begun = day
		return
	}
	d.out = day
	if !d.begun.Known() {
		d.begun = day
	}
}

// lose counts plants lost; no count, or as many as there were, is all of them.
func (d *deeds) lose(p *Planting, e *diary.Entry) {
	switch {
	case e.Unit == diary.Percent:
		if d.stands *= 1 - e.Amount/100; d.stands > leastStand {
			return
		}
	case e.Unit == diary.Count && p.Plants > 0:
		if d.stands -= e.Amount / float64(p.Plants); d.stands > leastStand {
			return
		}
	case e.Given() && e.Unit != diary.Count:
		return // part of the crop, not the plants
	}
	d.stands = 0
	d.lost, d.cleared = true, e.Day
}

// leastStand is less than one plant of a full bed.
const leastStand = 1e-3

// left is the share of the plants that still stands.
func (d *deeds) left() float64 { return math.Max(0, d.stands) }
