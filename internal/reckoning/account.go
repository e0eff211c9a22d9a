package reckoning

import (
	"fmt"
	"math"
	"slices"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/grow"
	"haulm/internal/unit"
)

// Verdict is whether a crop earned its room.
type Verdict string

// The verdicts.
const (
	Earned    Verdict = "earned its room"
	About     Verdict = "about held its own"
	NotEarned Verdict = "did not earn its room"
	TooEarly  Verdict = "still to give"
	Unknown   Verdict = "not weighed"
	Nothing   Verdict = "gave nothing"
	Unjudged  Verdict = "no plan to hold it against"
	Unplaced  Verdict = "ground not noted"
)

// Account is what one crop took and gave.
type Account struct {
	Key       string  `json:"crop"`
	Name      string  `json:"name"`
	Plantings int     `json:"plantings"`
	AreaM2    float64 `json:"area_m2"`
	M2Weeks   float64 `json:"m2_weeks"` // ground by the weeks it was held

	Kg        float64       `json:"kg"`
	Forecast  *Odds         `json:"forecast_kg"` // nil where nothing was forecast
	Portions  float64       `json:"portions"`
	Picks     int           `json:"pickings"`
	Unweighed int           `json:"unweighed"`
	FirstPick calendar.Date `json:"first_pick"`
	LastPick  calendar.Date `json:"last_pick"`
	FirstOdds DateOdds      `json:"forecast_first_pick"`

	NotedMinutes float64 `json:"minutes_noted"`
	BookMinutes  float64 `json:"minutes_by_the_book"`

	KgPerM2       float64 `json:"kg_per_m2"`
	PortionsPerM2 float64 `json:"portions_per_m2"`
	MinutesPerM2  float64 `json:"minutes_per_m2"`    // noted where noted, else by the book
	PortionsPerH  float64 `json:"portions_per_hour"` // by the same minutes

	Verdict Verdict `json:"verdict"`
	Why     string  `json:"why"`
	Stands  bool    `json:"stands"` // some of it stands still
}

// Minutes are those noted, or by the catalogue's figures where none were.
func (a *Account) Minutes() float64 {
	if a.NotedMinutes > 0 {
		return a.NotedMinutes
	}
	return a.BookMinutes
}

// account tells of one crop, by the stories of its plantings and by its loose
// one, nil for none; nothing is told of plantings of which the diary says
// nothing.
func (in *Input) account(c *crop.Crop, of []*story, loose *story, land float64) (Account, bool) {
	a := Account{Key: c.Key, Name: c.Name, FirstPick: calendar.None, LastPick: calendar.None, FirstOdds: noDates}
	lines := 0
	for _, s := range append(slices.Clone(of), loose) {
		if s == nil || s.byPlan {
			continue
		}
		lines += s.lines
		a.Kg += s.kg
		a.Picks += s.picks
		a.Unweighed += s.unweighed
		a.NotedMinutes += s.minutes
		if s.firstPick.Known() && (!a.FirstPick.Known() || s.firstPick < a.FirstPick) {
			a.FirstPick = s.firstPick
		}
		if s.lastPick.Known() {
			a.LastPick = max(a.LastPick, s.lastPick)
		}
		if s == loose {
			continue
		}
		a.Plantings++
		a.BookMinutes += in.bookMinutes(s)
		if s.onGround() {
			a.AreaM2 += s.AreaM2
			a.M2Weeks += s.AreaM2 * s.held()
		}
		a.Stands = a.Stands || s.Alive
		if s.Planned && s.FirstPick.P50.Known() && (!a.FirstOdds.P50.Known() || s.FirstPick.P50 < a.FirstOdds.P50) {
			a.FirstOdds = s.FirstPick
		}
	}
	if odds, any := forecast(of); any {
		a.Forecast = &odds
	}
	a.Portions = a.Kg * portionsPerKg(c)
	a.rates()
	a.judge(land)
	return a, lines > 0 || a.Picks > 0 || a.Plantings > 0 && a.Stands
}

var noDates = DateOdds{calendar.None, calendar.None, calendar.None}

func (a *Account) rates() {
	if a.AreaM2 > 0 {
		a.KgPerM2, a.PortionsPerM2, a.MinutesPerM2 = a.Kg/a.AreaM2, a.Portions/a.AreaM2, a.Minutes()/a.AreaM2
	}
	if m := a.Minutes(); m > 0 {
		const minutesPerHour = 60
		a.PortionsPerH = a.Portions / m * minutesPerHour
	}
}

// forecast adds up what was forecast of plantings that were begun, weather
// year by weather year, so that a good year for one is a good year for all.
func forecast(of []*story) (Odds, bool) {
	var total []float64
	for _, s := range of {
		if s.Kg == nil || s.byPlan {
			continue
		}
		if total == nil {
			total = make([]float64, len(s.Kg))
		}
		for y := range min(len(total), len(s.Kg)) {
			total[y] += s.Kg[y]
		}
	}
	if total == nil {
		return Odds{}, false
	}
	return Odds{grow.Quantile(total, 0.1), grow.Quantile(total, 0.5), grow.Quantile(total, 0.9)}, true
}

// bookMinutes is the work of a planting within the year by the catalogue's
// figures.
func (in *Input) bookMinutes(s *story) float64 {
	work, m2 := s.Crop.Labour, s.AreaM2
	total := work.TendPerM2W*m2*s.held() + work.PickPerKg*s.kg
	if in.within(s.begun) && !s.Stood {
		if s.Route.Raised {
			total += work.RaisePerM2 * m2
		} else {
			total += work.SowPerM2 * m2
		}
	}
	if s.Route.Raised && in.within(s.out) {
		total += work.SetOutPerM2 * m2
	}
	if in.within(s.cleared) {
		total += work.ClearPerM2 * m2
	}
	return total
}

// judge holds what the crop gave for its ground against what the plan meant
// the whole ground to give.
func (a *Account) judge(land float64) {
	rate := a.Portions / math.Max(a.M2Weeks, 1e-9)
	weeks := a.M2Weeks / math.Max(a.AreaM2, 1e-9)
	took := fmt.Sprintf("%.1f m² for %s", a.AreaM2, unit.Counted(int(math.Round(weeks)), "week", "weeks"))
	if weeks < 0.5 {
		took = fmt.Sprintf("%.1f m² for less than a week", a.AreaM2)
	}
	gave := fmt.Sprintf("%s gave %.0f portions, %.2f a m² and week", took, a.Portions, rate)
	against := fmt.Sprintf("%s; the plan meant the whole ground to give %.2f", gave, land)
	switch {
	case a.M2Weeks == 0:
		a.Verdict, a.Why = Unplaced, "nobody noted where it stood, so its ground is not known"
	case a.Picks == 0 && a.Stands:
		a.Verdict, a.Why = TooEarly, took+", nothing picked yet"
	case a.Picks > 0 && a.Unweighed*2 >= a.Picks:
		a.Verdict, a.Why = Unknown, fmt.Sprintf("%d of %d pickings have no weight: write grams or kilograms with the picking", a.Unweighed, a.Picks)
	case a.Picks == 0:
		a.Verdict, a.Why = Nothing, took+", and no picking is noted"
	case land == 0:
		a.Verdict, a.Why = Unjudged, gave+"; there is no plan to hold it against"
	case rate >= rule("earned.share")*land:
		a.Verdict, a.Why = Earned, against
	case a.Stands:
		a.Verdict, a.Why = TooEarly, against+"; it stands still"
	case rate >= rule("earned.least")*land:
		a.Verdict, a.Why = About, against
	default:
		a.Verdict, a.Why = NotEarned, against
	}
}
