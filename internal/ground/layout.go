package ground

import (
	"math"

	"haulm/internal/crop"
	"haulm/internal/garden"
	"haulm/internal/soil"
)

// Spacing is the room a crop is given.
type Spacing struct {
	InRowCM      float64 // from station to station in the row
	BetweenRowCM float64 // from row to row
	PotMinLitres float64 // soil that one plant needs in a pot; 0 = not for pots
	PerStation   float64 // plants that stand together, as in the clump of a multi-sown module; up to 1 = each by itself
}

// SpacingOf is the spacing of a route.
func SpacingOf(r *crop.Route) Spacing {
	return Spacing{InRowCM: r.InRowCM, BetweenRowCM: r.BetweenRowCM, PotMinLitres: r.PotMinLitres, PerStation: r.PerStation}
}

// Layout is a planting drawn to scale. In a bed the rows run across it, from
// side to side, and follow each other along it. In pots a row is a pot.
type Layout struct {
	Rows   int
	PerRow int     // stations in each row; plants in each pot
	Plants int     // every plant, those of a clump one by one
	Clumps int     // in which they stand; 0 where each stands by itself
	At     []Point // every station, row by row; in pots every plant
}

// Point is a station in cm: Along from the start of the stretch,
// Across from the side of the bed.
type Point struct {
	AlongCM, AcrossCM float64
}

// fitCM forgives rounding when asking whether one more row or plant fits.
const fitCM = 1e-6

// Plants lays a crop out on lengthCM of p.
//
// Along the bed each row has its whole spacing to itself, half before and
// half behind, so that neighbouring plantings keep their distance whatever
// they are: a stretch shorter than one row spacing holds nothing. Across the
// bed the row is centred and takes as many stations as come nearest to the
// spacing asked for; the outer ones stand between a quarter and three
// quarters of a spacing from the edge, their leaves reaching over the path
// as gardeners let them. A bed narrower than half a spacing still takes one
// plant to the row, in its middle.
//
// A spacing of zero or less, and pots for a crop not fit for them, give an
// empty Layout.
func Plants(p garden.Place, s Spacing, lengthCM float64) Layout {
	if p.Kind == garden.Pots {
		return inPots(p, s, lengthCM)
	}
	if !(s.InRowCM > 0) || !(s.BetweenRowCM > 0) || !(lengthCM > 0) {
		return Layout{}
	}
	rows := int((lengthCM + fitCM) / s.BetweenRowCM)
	across := AcrossCM(p)
	perRow := max(1, int(math.Round(across/s.InRowCM)))
	l := rowsAcross(rows, perRow, lengthCM, across, s)
	if clumped(s.PerStation) {
		l.Clumps, l.Plants = l.Plants, plantsIn(l.Plants, s.PerStation)
	}
	return l
}

func rowsAcross(rows, perRow int, lengthCM, acrossCM float64, s Spacing) Layout {
	l := Layout{Rows: rows, PerRow: perRow, Plants: rows * perRow}
	if rows == 0 {
		return Layout{}
	}
	l.At = make([]Point, 0, l.Plants)
	firstRow := centred(lengthCM, rows, s.BetweenRowCM)
	firstPlant := centred(acrossCM, perRow, s.InRowCM)
	for r := range rows {
		for i := range perRow {
			l.At = append(l.At, Point{firstRow + float64(r)*s.BetweenRowCM, firstPlant + float64(i)*s.InRowCM})
		}
	}
	return l
}

// centred is where the first of n things, apart from each other, stands so
// that the whole is in the middle of length.
func centred(length float64, n int, apart float64) float64 {
	return (length - float64(n-1)*apart) / 2
}

// inPots puts as many plants in each whole pot of the stretch as its soil
// feeds: one in the middle, more on a ring halfway to the rim.
func inPots(p garden.Place, s Spacing, lengthCM float64) Layout {
	pots := min(p.Pots, int((lengthCM+fitCM)/garden.PotPitchCM))
	each := crop.PlantsPerPot(p.Litres, s.PotMinLitres)
	if pots <= 0 || each == 0 {
		return Layout{}
	}
	l := Layout{Rows: pots, PerRow: each, Plants: pots * each, Clumps: Clumps(p, s, pots*each)}
	ring := soil.PotDiameterCM(p.Litres) / 4
	if each == 1 {
		ring = 0
	}
	for pot := range pots {
		middle := (float64(pot) + 0.5) * garden.PotPitchCM
		for i := range each {
			turn := 2 * math.Pi * float64(i) / float64(each)
			l.At = append(l.At, Point{middle + ring*math.Cos(turn), garden.PotPitchCM/2 + ring*math.Sin(turn)})
		}
	}
	return l
}

// MinStrips is the least number of strips of p on which one row (or one pot)
// of the crop fits; 0 when it never does.
func MinStrips(p garden.Place, s Spacing) int {
	if p.Kind == garden.Pots {
		if Plants(p, s, garden.PotPitchCM).Plants == 0 {
			return 0
		}
		return 1
	}
	if !(s.InRowCM > 0) || !(s.BetweenRowCM > 0) {
		return 0
	}
	return StripsFor(p, s.BetweenRowCM)
}
