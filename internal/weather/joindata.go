package weather

import (
	_ "embed"
	"fmt"
	"strings"

	"haulm/internal/graded"
)

//go:embed data/micro_place.csv
var microPlaceTable string

//go:embed data/join_priors.csv
var joinPriorTable string

// MicroPlace is a kind of place that differs from the open, level ground on
// which stations stand.
type MicroPlace struct {
	Name      string
	ClearTmin Offset  // of minima on clear, still nights; its error is from one such place to the next
	TmaxC     float64 // of maxima
	Is        string  // what makes a place one
	Source    string
	Grade     string // of trust, as in docs/sources.md
}

// MicroPlaces lists the kinds of place, plain open ground first.
func MicroPlaces() []MicroPlace {
	var places []MicroPlace
	for _, row := range graded.MustRows("weather: kinds of place", microPlaceTable) {
		p := MicroPlace{Name: row.Cells[0], Grade: row.Cells[4], Source: row.Cells[5], Is: row.Cells[6]}
		row.Numbers(1, &p.ClearTmin.C, &p.ClearTmin.Error, &p.TmaxC)
		places = append(places, p)
	}
	return places
}

// FindMicroPlace finds a kind of place by its name.
func FindMicroPlace(name string) (MicroPlace, error) {
	var names []string
	for _, p := range MicroPlaces() {
		if strings.EqualFold(p.Name, strings.TrimSpace(name)) {
			return p, nil
		}
		names = append(names, p.Name)
	}
	return MicroPlace{}, fmt.Errorf("there is no kind of place %q; choose of %s", name, strings.Join(names, ", "))
}

// Priors are what is known of gardens and stations before measuring: those of
// data/join_priors.csv.
func Priors() JoinPriors {
	var p JoinPriors
	into := map[string]*float64{
		"year_sd_c": &p.YearSDC, "month_sd_c": &p.MonthSDC, "night_sd_c": &p.NightSDC, "clear_low": &p.ClearLow, "clear_high": &p.ClearHigh,
	}
	for _, row := range graded.MustRows("weather: joining records", joinPriorTable) {
		row.Numbers(1, into[row.Cells[0]])
	}
	return p
}
