package reckoning

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/grow"
	"haulm/internal/kitchen"
)

// Change is one thing to do otherwise next year, with the figures it rests on.
type Change struct {
	Crop    string `json:"crop"`
	Do      string `json:"do"`
	Numbers string `json:"numbers"`
	Why     string `json:"why"`

	weight float64 // portions that it is about
}

// changes derives what to do otherwise, what is about most portions first.
func (r *Review) changes(in *Input, stories []*story) {
	for _, s := range stories {
		r.Changes = append(r.Changes, in.frostLoss(s)...)
		r.Changes = append(r.Changes, lateStart(s)...)
	}
	for i := range r.Crops {
		a := &r.Crops[i]
		r.Changes = append(r.Changes, in.nothingCame(a)...)
		r.Changes = append(r.Changes, in.againstForecast(a, r.Whole)...)
		r.Changes = append(r.Changes, noRoom(a, r.LandPortions)...)
		r.Changes = append(r.Changes, in.glut(a, stories)...)
	}
	r.Changes = append(r.Changes, sameCause(r.Losses)...)
	slices.SortStableFunc(r.Changes, func(a, b Change) int {
		return cmp.Or(cmp.Compare(b.weight, a.weight), cmp.Compare(a.Crop, b.Crop), cmp.Compare(a.Do, b.Do))
	})
}

// expected is what was forecast of a planting in the middling year, in
// portions.
func expected(s *story) float64 {
	odds, _ := forecast([]*story{s})
	return odds.P50 * portionsPerKg(s.Crop)
}

// portionsPerKg is 0 for a portion that the catalogue's loader would refuse.
func portionsPerKg(c *crop.Crop) float64 {
	perKg, err := kitchen.PortionsPerKg(c.Portion)
	if err != nil {
		return 0
	}
	return perKg
}

// lateStart tells of what was begun much later than planned.
func lateStart(s *story) []Change {
	late := int(s.begun - s.Start)
	if !s.Planned || s.Stood || !s.begun.Known() || late < int(rule("start.late_days")) || s.FirstPick.P50 == calendar.None {
		return nil
	}
	c := Change{Crop: s.Crop.Name, weight: expected(s) / 4,
		Do:      fmt.Sprintf("Begin %s in time, or plan it later", lower(s.Crop.Name)),
		Numbers: fmt.Sprintf("Planned for %s, begun on %s, %d days later; first picking was forecast for %s.", short(s.Start), short(s.begun), late, span(s.FirstPick)),
		Why:     "no picking is noted"}
	if s.firstPick.Known() {
		c.Why = fmt.Sprintf("it was first picked on %s, %s", short(s.firstPick), against(s.firstPick, s.FirstPick))
	}
	return []Change{c}
}

func against(day calendar.Date, odds DateOdds) string {
	switch {
	case odds.P90.Known() && day > odds.P90:
		return fmt.Sprintf("%d days after all but one year of ten", int(day-odds.P90))
	case odds.P10.Known() && day < odds.P10:
		return fmt.Sprintf("%d days before all but one year of ten", int(odds.P10-day))
	}
	return "within what was forecast all the same"
}

// nothingCame tells of crops that are over without a picking in the diary,
// which is either a loss or a line that nobody wrote.
func (in *Input) nothingCame(a *Account) []Change {
	if a.Verdict != Nothing || a.Forecast == nil || a.Forecast.P50 <= 0 {
		return nil
	}
	return []Change{{Crop: a.Name, weight: a.Forecast.P50 * portionsPerKg(in.Catalogue.Crop(a.Key)),
		Do:      fmt.Sprintf("Write down what was picked of %s, or what became of it", lower(a.Name)),
		Numbers: fmt.Sprintf("%s %.1f kg was forecast by then, %.1f–%.1f in eight years of ten.", sentence(a.Why), a.Forecast.P50, a.Forecast.P10, a.Forecast.P90),
		Why:     "without a line it counts as nothing, here and in next year's forecasts"}}
}

// usualSpread is by how much a crop's weight lies from the book, as a ratio, in
// eight of ten gardens and plantings alike: what nobody need look into.
func (in *Input) usualSpread(plantings int) float64 {
	s := grow.YieldScatter(in.Catalogue.Constants)
	return math.Exp(crop.ZTenth * s.Planting / math.Sqrt(float64(max(1, plantings))))
}

// againstForecast tells of crops that gave less or more than in eight of ten
// forecast years, by more than plantings alike differ in one weather. One year
// settles nothing, and it says so.
func (in *Input) againstForecast(a *Account, whole bool) []Change {
	if a.Forecast == nil || a.Picks == 0 || a.Unweighed > 0 || a.Forecast.P50 <= 0 {
		return nil
	}
	share, usual := a.Kg/a.Forecast.P50, in.usualSpread(a.Plantings)
	c := Change{Crop: a.Name, Numbers: fmt.Sprintf("%.1f kg came; %.1f kg was forecast by then, %.1f–%.1f in eight years of ten.", a.Kg, a.Forecast.P50, a.Forecast.P10, a.Forecast.P90)}
	perKg := 0.0
	if a.Kg > 0 {
		perKg = a.Portions / a.Kg
	}
	c.weight = math.Abs(a.Forecast.P50-a.Kg) * perKg
	switch {
	case a.Kg < a.Forecast.P10 && share < 1/usual && (whole || !a.Stands):
		c.Do = fmt.Sprintf("Find out what held %s back before giving it the same room", lower(a.Name))
		c.Why = fmt.Sprintf("it gave %.0f %% of the middling forecast, less than nine years of ten allow for, and further off than like plantings lie; one year is not yet this garden's measure", 100*share)
	case a.Kg > a.Forecast.P90 && share > usual:
		c.Do = fmt.Sprintf("Give %s less room for the same table", lower(a.Name))
		c.Why = fmt.Sprintf("it gave %.1f times the middling forecast, so %.0f %% of its ground would have brought what was planned; one year is not yet this garden's measure", share, 100/share)
	default:
		return nil
	}
	return []Change{c}
}

// noRoom tells of crops that did not earn their room.
func noRoom(a *Account, land float64) []Change {
	if a.Verdict != NotEarned {
		return nil
	}
	missing := land*a.M2Weeks - a.Portions
	return []Change{{Crop: a.Name, weight: missing,
		Do:      fmt.Sprintf("Give the ground of %s to something else, or keep it for its taste", lower(a.Name)),
		Numbers: sentence(a.Why),
		Why:     fmt.Sprintf("the same ground used as the plan meant the rest would have brought about %.0f portions more", missing)}}
}

// sameCause tells of a cause that took more than one planting.
func sameCause(losses []Loss) []Change {
	by := map[string][]Loss{}
	for _, l := range losses {
		if cause := strings.ToLower(strings.TrimSpace(l.Cause)); cause != "" {
			by[cause] = append(by[cause], l)
		}
	}
	var out []Change
	for cause, of := range by {
		if len(of) < 2 {
			continue
		}
		var each []string
		for _, l := range of {
			each = append(each, fmt.Sprintf("%s of %s, %s", l.What, lower(l.Crop), short(l.Day)))
		}
		out = append(out, Change{Crop: of[0].Crop, weight: float64(len(of)),
			Do:      fmt.Sprintf("Look for %s first from %s on", cause, short(of[0].Day.Add(-7))),
			Numbers: fmt.Sprintf("%d losses: %s.", len(of), strings.Join(each, "; ")),
			Why:     fmt.Sprintf("they fell between %s and %s", short(of[0].Day), short(of[len(of)-1].Day))})
	}
	return out
}

func short(d calendar.Date) string { return d.Format("2 January") }

func span(odds DateOdds) string {
	if odds.P10.Known() && odds.P90.Known() {
		return short(odds.P10) + " to " + short(odds.P90)
	}
	return "about " + short(odds.P50)
}

func lower(name string) string { return crop.InSentence(name) }

func sentence(s string) string {
	if s == "" || strings.HasSuffix(s, ".") {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:] + "."
}
