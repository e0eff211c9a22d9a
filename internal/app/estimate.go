package app

import (
	"fmt"
	"sync"

	"haulm/internal/climatology"
	"haulm/internal/weather"
)

// EstimateRef is the weather reference of a garden that lives on a first
// estimate for its own site.
const EstimateRef = builtInPrefix + "estimate"

// Years of a first estimate: 32 generated, so that a plan of 80 weeks can
// begin in 30 of them. They carry the numbers of the climatology's own period.
const (
	estimateYears = 32
	estimateStart = 1981
)

// world is the climatology, unpacked once and kept: it never changes, and
// unpacking it takes longer than all that is asked of it.
var world = sync.OnceValues(climatology.Load)

// EstimateFor is a first estimate of a site's weather: generated, never
// measured, and always the same for the same place.
func EstimateFor(site weather.Site) (*weather.Record, error) {
	w, err := world()
	if err != nil {
		return nil, fmt.Errorf("first estimate: %w", err)
	}
	return w.Estimate(site, estimateYears, estimateStart), nil
}

// EstimateBasis says in one sentence what a first estimate rests on, and what
// speaks against it; the second is empty where nothing does.
func EstimateBasis(site weather.Site) (basis, doubt string, err error) {
	w, err := world()
	if err != nil {
		return "", "", fmt.Errorf("first estimate: %w", err)
	}
	_, b := w.Normals(site)
	return b.String(), b.Doubt(), nil
}

// GroundHeight is about how high the land lies at a place, in metres, for one
// who does not say; 0 at sea.
func GroundHeight(latDeg, lonDeg float64) (float64, error) {
	w, err := world()
	if err != nil {
		return 0, fmt.Errorf("height of the ground: %w", err)
	}
	metres, _ := w.GroundM(latDeg, lonDeg)
	return metres, nil
}
