package app

import (
	"fmt"

	"haulm/internal/grow"
	"haulm/internal/trial"
	"haulm/internal/weather"
)

// A trial without weather is grown through what a garden without a record gets:
// the years of a first estimate, the middle of which is taken.

// trialYears are three times a garden's, so that the middle year hangs less on
// which years were made.
const trialYears = 3 * estimateYears

func (w *trialWeather) estimate(row trial.Row) (trial.Weather, error) {
	seen, err := w.estimateAt(row.Site)
	if err != nil {
		return seen, fmt.Errorf("%s: %w", row.ID, err)
	}
	return seen, nil
}

func (w *trialWeather) estimateAt(site weather.Site) (trial.Weather, error) {
	if seen, done := w.estimates[site]; done {
		return seen, nil
	}
	climatology, err := world()
	if err != nil {
		return trial.Weather{}, err
	}
	_, basis := climatology.Normals(site)
	rec, moved := w.anchored(climatology.Estimate(site, trialYears, estimateStart), site)
	w.estimates[site] = trial.Weather{
		Climate: grow.NewClimate(rec, w.rules), Kind: trial.Estimated,
		Words: fmt.Sprintf("%d years from the climatology, nearest point %.0f km%s", trialYears, basis.FarKM, moved),
	}
	return w.estimates[site], nil
}
