package unit

import "math"

// MassSpan is "1.2–3.4 kg", or "about 2.2 kg" where both ends read alike.
func (s System) MassSpan(low, high Kilogram) string {
	if s == Imperial {
		return Span(float64(low.Pounds()), float64(high.Pounds()), 1, "lb", "lb")
	}
	return Span(float64(low), float64(high), 1, "kg", "kg")
}

// Span writes the ends of a doubt no finer than it is known: to two figures,
// and to so many decimals at most.
func Span(low, high float64, decimals int, one, many string) string {
	from, to := twoFigures(low, decimals), twoFigures(high, decimals)
	switch {
	case to == "0":
		return "0 " + many
	case from == to && to == "1":
		return "about 1 " + one
	case from == to:
		return "about " + to + " " + many
	case from == "0":
		return "up to " + to + " " + many
	}
	return from + "–" + to + " " + many
}

func twoFigures(x float64, decimals int) string {
	if x < 10 {
		return Number(x, decimals)
	}
	step := math.Pow(10, math.Floor(math.Log10(x))-1)
	return Count(math.Round(x/step) * step)
}
