package ground

import (
	"math"

	"haulm/internal/garden"
	"haulm/internal/soil"
)

// StripM2 is the ground in one strip of a bed, the grain in which crops are
// placed along it: a quarter of a metre of a bed 1.2 m wide, which is a row or
// two of most crops. Strips are of equal area, not length, so that what a crop
// gives on one strip is the same in every bed.
const StripM2 = 0.3

// Strips is how many strips p has, at least one; each pot is a strip of its
// own. What is left at the far end of a bed, less than a strip, belongs to none.
func Strips(p garden.Place) int {
	if p.Kind == garden.Pots {
		return max(1, p.Pots)
	}
	return max(1, int(math.Floor(p.LengthM*p.WidthM/StripM2+1e-9)))
}

// stripLengthCM is the length of each strip along p. A bed of less than two
// strips is one strip whatever its size.
func stripLengthCM(p garden.Place) float64 {
	switch {
	case p.Kind == garden.Pots:
		return garden.PotPitchCM
	case Strips(p) == 1:
		return p.LengthM * 100
	}
	return 100 * StripM2 / p.WidthM
}

// StripCM is where the i-th strip of p begins, in whole cm from the place's
// first end; StripCM(p, Strips(p)) is where the last one ends.
func StripCM(p garden.Place, i int) int { return int(math.Round(float64(i) * stripLengthCM(p))) }

// StripsOver is the first strip of a stretch and the first one after it, to
// the nearest strip, so that stretches side by side stay side by side. Any
// stretch has at least one.
func StripsOver(p garden.Place, fromCM, toCM int) (first, end int) {
	n, length := Strips(p), stripLengthCM(p)
	first = min(n-1, int(math.Round(float64(fromCM)/length)))
	return first, max(first+1, min(n, int(math.Round(float64(toCM)/length))))
}

// StripsUnder is the first strip that a stretch reaches into and the first one
// after the last: all the ground of a row that ends within a strip.
func StripsUnder(p garden.Place, fromCM, toCM int) (first, end int) {
	const endsCM = 2 // strips and rows end at whole centimetres
	n, length := Strips(p), stripLengthCM(p)
	first = min(n-1, int(float64(fromCM+endsCM)/length))
	return first, max(first+1, min(n, int(math.Ceil(float64(toCM-endsCM)/length))))
}

// StripsFor is the least number of strips of p that gives lengthCM, at least
// one; 0 when p is too short. For pots it is the pots that make up lengthCM
// at garden.PotPitchCM each.
func StripsFor(p garden.Place, lengthCM float64) int {
	for n := 1; n <= Strips(p); n++ {
		if shortestRunCM(p, n) >= lengthCM-fitCM {
			return n
		}
	}
	return 0
}

// shortestRunCM is the least length of n neighbouring strips: rounding to
// whole centimetres makes some a centimetre shorter.
func shortestRunCM(p garden.Place, n int) float64 {
	least := math.Inf(1)
	for i := 0; i+n <= Strips(p); i++ {
		least = min(least, float64(StripCM(p, i+n)-StripCM(p, i)))
	}
	return least
}

// AreaM2 is the growing area of p: the bed, or the soil surface of all pots.
func AreaM2(p garden.Place) float64 {
	if p.Kind == garden.Pots {
		return float64(p.Pots) * soil.PotMouthM2(p.Litres)
	}
	return p.LengthM * p.WidthM
}

// StretchM2 is the ground of a stretch of p; pots count for the ground that
// their plants would have in a bed.
func StretchM2(p garden.Place, fromCM, toCM, plants int, plantsPerM2 float64) float64 {
	if p.Kind != garden.Pots {
		return float64(toCM-fromCM) / 100 * p.WidthM
	}
	if plantsPerM2 <= 0 {
		return 0
	}
	return float64(plants) / plantsPerM2
}

// TotalAreaM2 is the growing area of the whole garden.
func TotalAreaM2(g *garden.Garden) float64 {
	total := 0.0
	for _, p := range g.Places {
		total += AreaM2(p)
	}
	return total
}

// AcrossCM is the extent of p across its length: a bed's width, or the
// standing room of one pot.
func AcrossCM(p garden.Place) float64 {
	if p.Kind == garden.Pots {
		return garden.PotPitchCM
	}
	return p.WidthM * 100
}
