package cropping

import (
	"math"

	"haulm/internal/calendar"
	"haulm/internal/garden"
	"haulm/internal/grow"
)

// oldPlant is what a perennial that stands brings in weather year y: the
// pickings of every season that reaches into the plan, as one course. It never
// clears its ground.
func (l *Lay) oldPlant(st *stood, track *grow.Track, y int) grow.Course {
	climate, monday := l.question.Climate, l.years[y]
	planted := calendar.SeasonYear(st.Started, climate.South())
	yearsBack := int(math.Round(float64(l.from-monday) / daysOfAYear))
	out := grow.Begun(monday)
	for year := monday.Year() - 1; year <= monday.Year()+2; year++ {
		newYear := climate.NewYear(year)
		if newYear < climate.Start() || newYear >= climate.End() {
			continue
		}
		season := track.Established(newYear, year+yearsBack-planted)
		for _, p := range season.Pickings {
			if p.Monday < monday {
				continue
			}
			if !out.FirstPick.Known() {
				out.FirstPick = max(season.FirstPick, monday)
			}
			out.Pickings = append(out.Pickings, p)
			out.KgPerM2 += p.KgPerM2
			out.LastPick = season.LastPick
		}
		if season.Mishap.Kind != grow.NoMishap && !out.FirstPick.Known() {
			out.Mishap = season.Mishap
		}
	}
	if out.FirstPick.Known() {
		out.Mishap.Lost = false
	}
	return out
}

const daysOfAYear = 365.25

// leadDays is how far before the plan's beginning a weather year must be whole
// for what stands: back to its beginning, or for perennials through the winter
// before.
func (l *Lay) leadDays(s garden.Standing) int {
	if cr, err := l.question.Catalogue.Find(s.Crop); err == nil && cr.Perennial {
		return perennialLeadDays
	}
	return int(l.from-s.Started) + 7
}

// perennialLeadDays is a whole year, so that the winter before is in it.
const perennialLeadDays = 366
