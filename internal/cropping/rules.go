package cropping

import (
	_ "embed"
	"fmt"
	"reflect"

	"haulm/internal/graded"
)

//go:embed data/rules.csv
var rulesCSV string

// Rules are the planner's own figures, from data/rules.csv, where each stands
// beside its range, source and grade; the tag is its name there. Costs are in
// portions.
type Rules struct {
	Weeks             float64 `rule:"plan.weeks"`
	SowingWeeks       float64 `rule:"plan.sowing_weeks"`
	LeastYears        float64 `rule:"plan.least_years"`
	BadYearWeight     float64 `rule:"plan.bad_year_weight"`
	BadYearShare      float64 `rule:"plan.bad_year_share"`
	LeastSuccessShare float64 `rule:"plan.least_success_share"`
	SetupCost         float64 `rule:"plan.setup_cost"`
	ChangeCost        float64 `rule:"plan.change_cost"`
	EvenLossShare     float64 `rule:"plan.even_loss_share"`
	RowFlexShare      float64 `rule:"plan.row_flex_share"`
	MinuteCost        float64 `rule:"plan.minute_cost"`
	OvertimeCost      float64 `rule:"plan.overtime_cost"`
	ClearShare        float64 `rule:"plan.clear_share"`
	PaceAfterSetOut   float64 `rule:"plan.pace_after_set_out_share"`
	LongestInSoil     float64 `rule:"plan.longest_in_soil_days"`
	NewHandShare      float64 `rule:"yield.new_share"`
	SomeHandShare     float64 `rule:"yield.some_share"`
	LongHandShare     float64 `rule:"yield.long_share"`
}

// loadRules reads the table; every rule must be there once and within its
// range.
func loadRules() (Rules, error) {
	var rules Rules
	values, err := graded.Read("planner's figures", rulesCSV)
	if err != nil {
		return rules, err
	}
	fields := reflect.ValueOf(&rules).Elem()
	for i := range fields.NumField() {
		name := fields.Type().Field(i).Tag.Get("rule")
		figure, ok := values[name]
		if !ok {
			return rules, fmt.Errorf("planner's figures: %s is missing", name)
		}
		fields.Field(i).SetFloat(figure.Value)
	}
	return rules, nil
}

func (r Rules) weeks() int       { return int(r.Weeks) }
func (r Rules) sowingWeeks() int { return int(r.SowingWeeks) }
func (r Rules) leastYears() int  { return int(r.LeastYears) }

// handShare is the part of the catalogue's typical yield that a gardener of
// this experience is counted on for.
func (r Rules) handShare(experience string) float64 {
	switch experience {
	case "new":
		return r.NewHandShare
	case "long":
		return r.LongHandShare
	}
	return r.SomeHandShare
}
