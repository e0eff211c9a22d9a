package heat

import "math"

// Cutoff says what warmth above the upper threshold does.
type Cutoff int

// The three cut-offs of the UC IPM definitions.
const (
	// Horizontal: warmth above the upper threshold counts no more.
	Horizontal Cutoff = iota
	// Intermediate: every degree above it takes one away again.
	Intermediate
	// Vertical: while it is hotter than the upper threshold nothing counts.
	Vertical
)

// Band is the range of temperature in which something develops. Upper is
// +Inf where there is no upper threshold.
type Band struct {
	Lower, Upper float64
	Cutoff       Cutoff
}

// Above is a Band with no upper threshold.
func Above(lower float64) Band { return Band{Lower: lower, Upper: math.Inf(1)} }

// SingleSine is the degree-days of one day whose temperature runs as a sine
// between its lowest and highest (Baskerville & Emin 1969; Zalom et al. 1983).
// The formulas hold for low at or below high.
func SingleSine(low, high float64, b Band) float64 {
	if math.IsNaN(low + high) {
		return math.NaN()
	}
	return b.cut(sine{low, high}, sine{low, high})
}

// DoubleSine takes the second half of the day down to the next day's lowest
// (Allen 1976).
func DoubleSine(low, high, nextLow float64, b Band) float64 {
	if math.IsNaN(low + high + nextLow) {
		return math.NaN()
	}
	return b.cut(sine{low, high}, sine{nextLow, high})
}

// SingleTriangle is SingleSine with straight lines (Lindsey & Newman 1956;
// Zalom et al. 1983).
func SingleTriangle(low, high float64, b Band) float64 {
	if math.IsNaN(low + high) {
		return math.NaN()
	}
	return b.cut(triangle{low, high}, triangle{low, high})
}

// DoubleTriangle is DoubleSine with straight lines.
func DoubleTriangle(low, high, nextLow float64, b Band) float64 {
	if math.IsNaN(low + high + nextLow) {
		return math.NaN()
	}
	return b.cut(triangle{low, high}, triangle{nextLow, high})
}

// curve is a day's temperature: how far its mean lies above a threshold where
// it is above it (degree-days), and for what share of the day it is.
type curve interface {
	above(threshold float64) float64
	share(threshold float64) float64
}

// cut counts a day whose two halves follow a curve each.
//
// The plain intermediate formula takes more away on a very hot day than the
// vertical cut-off does, which would make the milder rule the harsher one. UC
// IPM's own results stop at the day's vertical figure there, and so does this.
func (b Band) cut(morning, evening curve) float64 {
	warm := (morning.above(b.Lower) + evening.above(b.Lower)) / 2
	if math.IsInf(b.Upper, 1) {
		return warm
	}
	hot := (morning.above(b.Upper) + evening.above(b.Upper)) / 2
	share := (morning.share(b.Upper) + evening.share(b.Upper)) / 2
	vertical := max(warm-hot-(b.Upper-b.Lower)*share, 0) // 0: rounding
	switch b.Cutoff {
	case Vertical:
		return vertical
	case Intermediate:
		return max(warm-2*hot, vertical)
	default:
		return warm - hot
	}
}

type sine struct{ low, high float64 }

func (s sine) above(threshold float64) float64 {
	mean, half := (s.low+s.high)/2, (s.high-s.low)/2
	switch {
	case s.low >= threshold:
		return mean - threshold
	case s.high <= threshold:
		return 0
	}
	x := (threshold - mean) / half
	return ((mean-threshold)*math.Acos(x) + half*math.Sqrt(1-x*x)) / math.Pi
}

func (s sine) share(threshold float64) float64 {
	switch {
	case s.low >= threshold:
		return 1
	case s.high <= threshold:
		return 0
	}
	return math.Acos((2*threshold-s.low-s.high)/(s.high-s.low)) / math.Pi
}

type triangle struct{ low, high float64 }

func (t triangle) above(threshold float64) float64 {
	switch {
	case t.low >= threshold:
		return (t.low+t.high)/2 - threshold
	case t.high <= threshold:
		return 0
	}
	over := t.high - threshold
	return over * over / (2 * (t.high - t.low))
}

func (t triangle) share(threshold float64) float64 {
	switch {
	case t.low >= threshold:
		return 1
	case t.high <= threshold:
		return 0
	}
	return (t.high - threshold) / (t.high - t.low)
}
