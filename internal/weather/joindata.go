package weather

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
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
	for _, row := range tableRows(microPlaceTable, 7) {
		places = append(places, MicroPlace{
			Name: row[0], ClearTmin: Offset{C: tableNumber(row[1]), Error: tableNumber(row[2])}, TmaxC: tableNumber(row[3]),
			Grade: row[4], Source: row[5], Is: row[6],
		})
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
	value := map[string]float64{}
	for _, row := range tableRows(joinPriorTable, 5) {
		value[row[0]] = tableNumber(row[1])
	}
	return JoinPriors{
		YearSDC: value["year_sd_c"], MonthSDC: value["month_sd_c"], NightSDC: value["night_sd_c"],
		ClearLow: value["clear_low"], ClearHigh: value["clear_high"],
	}
}

// tableRows are the rows of an embedded table, its header and remarks left out.
func tableRows(table string, columns int) [][]string {
	in := csv.NewReader(strings.NewReader(table))
	in.Comment, in.FieldsPerRecord = '#', columns
	rows, err := in.ReadAll()
	if err != nil {
		panic(fmt.Sprintf("embedded table: %v", err)) // a test reads every row
	}
	return rows[1:]
}

func tableNumber(text string) float64 {
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		panic(err) // a test reads every row
	}
	return x
}
