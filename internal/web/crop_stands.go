package web

import (
	"fmt"

	"haulm/internal/app"
	"haulm/internal/crop"
)

// standsSays tells when an old plant of a perennial is picked here; "" where
// there is no weather to tell it by.
func (p *Pages) standsSays(c *crop.Crop) string {
	a, err := p.desk.Grow(app.GrowQuestion{Crop: c.Key, Standing: true})
	if err != nil {
		return ""
	}
	years := a.Made + a.Lost
	if a.FirstPick.P50 == nil {
		return fmt.Sprintf("Here old plants would have been picked in only %d of %d years.", a.Made, years)
	}
	says := fmt.Sprintf("Here old plants would have been picked in %d of %d years, first by %s in half of them", a.Made, years, monthDay(a.FirstPick.P50))
	if a.FirstPick.P10 != nil && a.FirstPick.P90 != nil {
		says += fmt.Sprintf(", between %s and %s in eight of ten", monthDay(a.FirstPick.P10), monthDay(a.FirstPick.P90))
	}
	first := "the next year"
	if c.FirstCropYear > 1 {
		first = fmt.Sprintf("year %d after planting", c.FirstCropYear)
	}
	return says + ". The first fair crop comes in " + first + "."
}
