package app

import (
	"haulm/internal/calendar"
	"haulm/internal/cropping"
	"haulm/internal/season"
)

// PlanAnswer is a plan as JSON.
type PlanAnswer struct {
	Garden       string           `json:"garden"`
	From         calendar.Date    `json:"from"`
	WeatherYears int              `json:"weather_years"`
	Estimated    bool             `json:"estimated"`
	Value        float64          `json:"value"`
	Bound        float64          `json:"bound,omitzero"` // no plan of this garden is worth more; left out where the garden has changed since
	Gap          float64          `json:"gap"`
	Plantings    []PlantingAnswer `json:"plantings"`
	Weeks        []WeekAnswer     `json:"weeks"`
	IdleShare    float64          `json:"idle_share"`
	Portions     cropping.Odds    `json:"portions"`
	FirstYear    cropping.Odds    `json:"portions_first_year"`
	Kg           cropping.Odds    `json:"kg"`
	KgPerM2      float64          `json:"kg_per_m2"`
	MinPerM2     float64          `json:"min_per_m2"`
	MinPerKg     float64          `json:"min_per_kg"`
}

// PlantingAnswer is one planting as JSON.
type PlantingAnswer struct {
	Crop      string            `json:"crop"`
	Class     string            `json:"class"`
	Route     string            `json:"route"`
	Place     string            `json:"place"`
	FromCM    int               `json:"from_cm"`
	ToCM      int               `json:"to_cm"`
	Start     calendar.Date     `json:"start"`
	SetOut    calendar.Date     `json:"set_out"`
	FirstPick cropping.DateOdds `json:"first_pick"`
	Clear     calendar.Date     `json:"clear"`
	Plants    int               `json:"plants"`
	Clumps    int               `json:"clumps,omitempty"` // in which they stand, out of multi-sown modules
	Seeds     int               `json:"seeds"`
	Kg        cropping.Odds     `json:"kg"`
	Expected  ExpectedAnswer    `json:"expected"`
	Lost      int               `json:"years_lost"`
	Standing  bool              `json:"standing"`
	Reasons   []string          `json:"reasons"`
	Cautions  []string          `json:"cautions,omitempty"`
}

// ExpectedAnswer is what a planting is to do 8 times in 10, over the weather and
// over what the growth model leaves in doubt; all else of a planting is by the
// weather alone, at a middling pace and yield.
type ExpectedAnswer struct {
	FirstPick season.Odds `json:"first_pick"`
	LowKg     float64     `json:"low_kg"`
	HighKg    float64     `json:"high_kg"`
}

// WeekAnswer is one week of the table's year as JSON.
type WeekAnswer struct {
	Week     calendar.Date `json:"week"`
	Portions cropping.Odds `json:"portions"`
	Need     float64       `json:"need"`
}

// Answer puts a plan into its JSON form, with what each planting is expected to
// do.
func (p *Planned) Answer(expected []season.Expected, estimated bool) PlanAnswer {
	y := p.Year
	a := PlanAnswer{
		Garden: y.Garden, From: y.From, WeatherYears: y.WeatherYears, Estimated: estimated, Value: y.Value, Bound: p.Result.Bound, Gap: p.Result.Gap,
		IdleShare: y.IdleShare, Portions: y.Totals.Portions, FirstYear: y.Totals.FirstYear, Kg: y.Totals.YearKg,
		KgPerM2: y.Totals.KgPerM2, MinPerM2: y.Totals.MinPerM2, MinPerKg: y.Totals.MinPerKg,
		Plantings: []PlantingAnswer{}, Weeks: []WeekAnswer{},
	}
	for i := range y.Plantings {
		a.Plantings = append(a.Plantings, plantingAnswer(&y.Plantings[i], &expected[i]))
	}
	for _, w := range y.Table {
		a.Weeks = append(a.Weeks, WeekAnswer{w.Monday, w.Portions, w.Need})
	}
	return a
}

func plantingAnswer(p *cropping.Planting, e *season.Expected) PlantingAnswer {
	a := PlantingAnswer{
		Crop: p.Crop.Key, Class: p.Class, Route: p.Route.Key, Place: p.Place, FromCM: p.FromCM, ToCM: p.ToCM,
		Start: p.Start, SetOut: p.SetOut, FirstPick: p.FirstPick, Clear: p.Clear, Plants: p.Layout.Plants, Clumps: p.Layout.Clumps, Seeds: p.Seeds,
		Kg: p.Kg, Expected: ExpectedAnswer{e.FirstPick, e.LowKg, e.HighKg}, Lost: p.Lost, Standing: p.Stands, Reasons: p.Reasons,
	}
	for _, c := range p.Crop.Cautions {
		a.Cautions = append(a.Cautions, c.Situation+": "+c.Precaution)
	}
	return a
}
