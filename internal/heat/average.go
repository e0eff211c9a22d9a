package heat

import "math"

// Average is the day's mean above the base, never below nought: method 1 of
// McMaster & Wilhelm 1997.
func Average(low, high, base float64) float64 { return max((low+high)/2-base, 0) }

// ClampedAverage draws both temperatures into the band from base to ceiling
// before the mean is taken: method 2 of McMaster & Wilhelm 1997, the way of
// the maize growers. Ceiling is +Inf where there is none.
func ClampedAverage(low, high, base, ceiling float64) float64 {
	return (clamp(low, base, ceiling)+clamp(high, base, ceiling))/2 - base
}

// FourCase is the day-degree of the British and Irish weather services, which
// picks one of four sums by where the base lies in the day's range (as printed
// by Met Éireann).
func FourCase(low, high, base float64) float64 {
	mean := (low + high) / 2
	switch {
	case math.IsNaN(mean):
		return mean
	case low >= base:
		return mean - base
	case high <= base:
		return 0
	case mean >= base:
		return (high-base)/2 - (base-low)/4
	}
	return (high - base) / 4
}

// MeanInBand is a day's warmth from its mean alone: above base, counted no
// further than plateau. It is what thermal-time models of crops use.
func MeanInBand(mean, base, plateau float64) float64 { return clamp(mean, base, plateau) - base }

func clamp(x, low, high float64) float64 { return max(low, min(x, high)) }
