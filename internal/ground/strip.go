package ground

import (
	"math"

	"haulm/internal/garden"
)

// StripLengthCM is the length aimed at when a bed is cut into strips, the
// grain in which crops are placed along it. A foot: a row of most crops takes
// one or two, and a bed of usual length stays under a score or two of strips.
const StripLengthCM = 30

// Strips is how many strips p has, at least one. A bed's strips are equally
// long and use its whole length, so they may be a little shorter or longer
// than StripLengthCM; each pot is a strip of its own.
func Strips(p garden.Place) int {
	if p.Kind == garden.Pots {
		return max(1, p.Pots)
	}
	return max(1, int(math.Round(float64(p.LengthCM())/StripLengthCM)))
}

// StripCM is where the i-th strip of p begins, in whole cm from the place's
// first end; StripCM(p, Strips(p)) is its far end.
func StripCM(p garden.Place, i int) int {
	n := Strips(p)
	return (2*i*p.LengthCM() + n) / (2 * n)
}

// StripsOver is the first strip that the stretch touches and the first one
// after it that it does not. A stretch of less than 1 cm touches none.
func StripsOver(p garden.Place, fromCM, toCM int) (first, end int) {
	n := Strips(p)
	for first < n && StripCM(p, first+1) <= fromCM {
		first++
	}
	end = first
	for end < n && StripCM(p, end) < toCM && fromCM < toCM {
		end++
	}
	return first, end
}

// StripAreaM2 is the ground in one strip of p; for pots, the soil surface of
// one pot.
func StripAreaM2(p garden.Place) float64 { return AreaM2(p) / float64(Strips(p)) }

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
		d := PotDiameterCM(p.Litres) / 100
		return float64(p.Pots) * math.Pi / 4 * d * d
	}
	return p.LengthM * p.WidthM
}

// TotalAreaM2 is the growing area of the whole garden.
func TotalAreaM2(g *garden.Garden) float64 {
	total := 0.0
	for _, p := range g.Places {
		total += AreaM2(p)
	}
	return total
}

// PotDiameterCM is the width of a pot of so many litres, taken as a cylinder
// as deep as it is wide: V = pi/4 d^3.
func PotDiameterCM(litres float64) float64 {
	const cm3PerLitre = 1000
	return math.Cbrt(litres * cm3PerLitre * 4 / math.Pi)
}

// AcrossCM is the extent of p across its length: a bed's width, or the
// standing room of one pot.
func AcrossCM(p garden.Place) float64 {
	if p.Kind == garden.Pots {
		return garden.PotPitchCM
	}
	return p.WidthM * 100
}
