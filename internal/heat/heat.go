package heat

// MeanInBand is a day's warmth from its mean alone: above base, counted no
// further than plateau, which is +Inf where there is none. It is what
// thermal-time models of crops use: method 1 of McMaster & Wilhelm 1997, with
// a plateau.
func MeanInBand(mean, base, plateau float64) float64 { return max(base, min(mean, plateau)) - base }
