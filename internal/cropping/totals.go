package cropping

import (
	_ "embed"

	"haulm/internal/crop"
	"haulm/internal/graded"
	"haulm/internal/ground"
	"haulm/internal/plan"
)

// Totals sum a plan up and set it beside published whole gardens.
type Totals struct {
	Portions   Odds    // eaten over the whole plan, by weather year
	FirstYear  Odds    // of them, in its first 52 weeks
	PickedKg   Odds    // harvested over the whole plan
	WastedKg   Odds    // of it, picked and not eaten
	YearKg     Odds    // harvested in the first 52 weeks
	GroundM2   float64 // beds and pots
	KgPerM2    float64 // of the first 52 weeks, middling
	Minutes    float64 // work on the plan's own plantings in the first 52 weeks
	HoursAWeek float64 // the same, in the mean of those weeks
	MinPerM2   float64
	MinPerKg   float64
	Yardsticks []Yardstick
}

// Yardstick is a published figure of a whole garden.
type Yardstick struct {
	Name, What, Unit    string
	Value               float64
	Source, Grade, Note string // the source in words
}

//go:embed data/yardsticks.csv
var yardsticksCSV string

// yardsticks are the published whole-garden figures that a plan is set beside.
func yardsticks(catalogue *crop.Catalogue) []Yardstick {
	var out []Yardstick
	for _, row := range graded.MustRows("cropping: yardsticks", yardsticksCSV) {
		y := Yardstick{Name: row.Cells[0], What: row.Cells[1], Unit: row.Cells[3], Source: catalogue.Cite(row.Cells[4]), Grade: row.Cells[5], Note: row.Cells[6]}
		row.Numbers(2, &y.Value)
		out = append(out, y)
	}
	return out
}

func (l *Lay) totals(plantings []plan.Planting, s *served) Totals {
	all := make([]float64, len(l.years))
	first := make([]float64, len(l.years))
	for y, weeks := range s.eaten {
		for w, portions := range weeks {
			all[y] += portions
			if w < l.rules.sowingWeeks() {
				first[y] += portions
			}
		}
	}
	t := Totals{
		Portions: oddsOf(all), FirstYear: oddsOf(first), PickedKg: oddsOf(s.pickedKg), WastedKg: oddsOf(s.wastedKg), YearKg: oddsOf(s.yearKg),
		GroundM2: ground.TotalAreaM2(l.question.Garden), Minutes: l.minutes(plantings),
	}
	t.HoursAWeek = t.Minutes / 60 / float64(l.rules.sowingWeeks())
	t.Yardsticks = yardsticks(l.question.Catalogue)
	if t.GroundM2 > 0 {
		t.KgPerM2, t.MinPerM2 = t.YearKg.P50/t.GroundM2, t.Minutes/t.GroundM2
	}
	if t.YearKg.P50 > 0 {
		t.MinPerKg = t.Minutes / t.YearKg.P50
	}
	return t
}

// minutes is the work that the plan's own plantings take in its first year.
func (l *Lay) minutes(plantings []plan.Planting) float64 {
	total := 0.0
	for _, p := range plantings {
		c := &l.choices[p.Cand].numbers
		for i, tenths := range c.Labour {
			if c.LabourAt+i < l.rules.sowingWeeks() {
				total += float64(tenths) / 10 * float64(p.Strips) * l.rowShare(p)
			}
		}
	}
	return total
}
