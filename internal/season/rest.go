package season

import (
	"math"

	"haulm/internal/calendar"
)

// Rest is what a planting still brings, from today on, in the weather of one
// past year's remainder.
type Rest struct {
	Past     calendar.Date // the day of that past year which stands for today
	Clear    calendar.Date // real day on which its ground comes free; None where that is out of sight
	Failed   bool          // it gives nothing
	Pickings []Picked      // in order
}

// Picked is what is picked in one week.
type Picked struct {
	Monday calendar.Date // real
	Kg     float64
}

// Rest is what the planting still brings, one entry a past year. What was
// cleared, was lost or has not begun brings nothing.
func (s *Standing) Rest() []Rest { return s.rest }

// rests are the courses from today on, weighed for the planting's ground.
func (g *grower) rests(out *Standing, yield float64) []Rest {
	if out.deeds.cleared.Known() || !out.deeds.begun.Known() {
		return nil
	}
	rests := make([]Rest, 0, len(out.courses))
	for _, sc := range out.courses {
		rests = append(rests, g.restOf(out, sc, yield*out.deeds.left()))
	}
	return rests
}

// restOf is one course from today on: the weeks to come, and no more of them
// than was not picked yet. What is taken once and was not waits where it stands.
func (g *grower) restOf(out *Standing, sc scenario, factor float64) Rest {
	today := g.in.Today
	r := Rest{Past: g.splice.past[sc.year] + (today - g.splice.lead), Clear: sc.course.Clear, Failed: sc.course.Failed()}
	waits := out.waits()
	whole, ahead := 0.0, 0.0
	for _, p := range sc.course.Pickings {
		whole += p.KgPerM2 * out.ScaleM2 * factor
		monday := p.Monday
		if monday.Add(6) < today {
			if !waits {
				continue
			}
			monday = today.Monday()
		}
		ahead += p.KgPerM2 * out.ScaleM2 * factor
		r.Pickings = append(r.Pickings, Picked{monday, p.KgPerM2 * out.ScaleM2 * factor})
	}
	if waits && len(r.Pickings) > 0 && r.Clear.Known() {
		r.Clear = max(r.Clear, today.Add(7))
	}
	if left := math.Max(0, whole-out.PickedKg); ahead > left {
		for i := range r.Pickings {
			r.Pickings[i].Kg *= left / ahead
		}
	}
	return r
}

// Regrow is what stands and what is still to be begun, re-grown from what
// really happened: Look without jobs, water and alarms.
func Regrow(in Input) ([]Standing, error) {
	_, standing, err := growAll(&in)
	return standing, err
}
