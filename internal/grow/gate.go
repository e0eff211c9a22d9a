package grow

import "haulm/internal/crop"

// gateKind is what a crop waits for the length of the day with.
type gateKind int8

const (
	noGate    gateKind = iota
	bulbGate           // bulbs wait for long days
	tuberGate          // tubers wait for short days
)

// gate holds the last part of growth back until the days are long enough, or
// short enough, for it; only then does that part take its own thermal time.
type gate struct {
	kind      gateKind
	hours     float64
	afterCDay float64 // thermal time without which the plant is too small to heed it
}

// newGate is a crop's gate where the longest day has so many hours. A gardener
// grows the kinds of onion that bulb there: those that want the longest days
// among those that the place passes by a margin.
func newGate(d crop.DayLength, longestDayH, marginH float64) gate {
	switch {
	case d.BulbsAboveH > 0:
		hours := d.BulbsAboveH
		for _, shorter := range []float64{d.MiddleAboveH, d.ShortAboveH} {
			if longestDayH < hours+marginH && shorter > 0 {
				hours = shorter
			}
		}
		return gate{bulbGate, hours, d.BulbsAfterCDay}
	case d.TubersBelowH > 0:
		return gate{tuberGate, d.TubersBelowH, d.TubersAfterCDay}
	}
	return gate{}
}

// opens is the day on which the gate opens for the plant, or past the record.
func (r *run) opens() int {
	return r.comes(r.gateDays, r.grown(r.recipe.gate.afterCDay))
}

// filledTo is the day on which bulbs or tubers are filled to a share.
func (r *run) filledTo(share float64) int {
	opened := r.opens()
	if opened >= r.days() {
		return opened
	}
	return r.heat.reach(opened, share*(r.recipe.targetCDay-r.recipe.gate.afterCDay))
}
