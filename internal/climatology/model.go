package climatology

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// quantity is a figure of the days that a regression gives from predictors.
type quantity string

const (
	tminShift   quantity = "tmin_shift_c" // from the climatology's means to 1981–2010 at the very place
	tmaxShift   quantity = "tmax_shift_c"
	tminSpread  quantity = "tmin_sd_log" // logarithm of °C, of all days about the season
	tmaxSpread  quantity = "tmax_sd_log"
	tminLag1    quantity = "tmin_lag1"
	tmaxLag1    quantity = "tmax_lag1"
	together    quantity = "tmin_tmax_r"
	tminWet     quantity = "tmin_wet_c"
	tmaxWet     quantity = "tmax_wet_c"
	slowTmin    quantity = "slow_tmin_var"
	slowTmax    quantity = "slow_tmax_var"
	wetRatio    quantity = "wet_ratio"       // wet days (0.2 mm) for one of the climatology (0.1 mm)
	wetPersists quantity = "wet_persistence" // wet after wet less wet after dry
	wetShape    quantity = "wet_shape"
	clearWet    quantity = "clear_wet_ratio" // clearness of a wet day for that of a dry one
	clearDrySD  quantity = "clear_dry_sd"
	clearWetSD  quantity = "clear_wet_sd"
	clearOnTmin quantity = "clear_on_tmin"
	clearOnTmax quantity = "clear_on_tmax"
	windSpread  quantity = "wind_sd_ratio"
	windLag1    quantity = "wind_lag1"
	humidWet    quantity = "humidity_wet_pc"
	humidSpread quantity = "humidity_sd_pc"
	humidOnTmax quantity = "humidity_on_tmax"
	humidLag1   quantity = "humidity_lag1"
)

// bounds keep a regression within what daily records show, wherever on Earth
// it is asked.
var bounds = map[quantity][2]float64{
	tminShift: {-1.5, 2}, tmaxShift: {-2, 2},
	tminSpread: {math.Log(0.8), math.Log(13)}, tmaxSpread: {math.Log(0.8), math.Log(13)},
	tminLag1: {0.3, 0.88}, tmaxLag1: {0.25, 0.88}, together: {0.05, 0.93},
	tminWet: {-4, 6}, tmaxWet: {-7, 4},
	slowTmin: {0, 0.3}, slowTmax: {0, 0.4},
	wetRatio: {0.6, 1.1}, wetPersists: {0.05, 0.6}, wetShape: {0.4, 1.1},
	clearWet: {0.4, 0.95}, clearDrySD: {0.04, 0.2}, clearWetSD: {0.04, 0.2},
	clearOnTmin: {-0.9, 0.2}, clearOnTmax: {-0.2, 0.95},
	windSpread: {0.25, 0.6}, windLag1: {0.2, 0.7},
	humidWet: {0, 25}, humidSpread: {3, 18}, humidOnTmax: {-0.8, 0.2}, humidLag1: {0.2, 0.8},
}

//go:embed data/coefficients.csv
var coefficientFile string

// term is one predictor with its coefficient.
type term struct {
	name string
	of   predictor
	by   float64
}

// dailyModel are the regressions.
type dailyModel map[quantity][]term

func builtInModel() (dailyModel, error) { return readModel(strings.NewReader(coefficientFile)) }

// readModel reads lines of quantity, predictor, coefficient.
func readModel(r io.Reader) (dailyModel, error) {
	table := csv.NewReader(r)
	table.Comment = '#'
	table.FieldsPerRecord = 3
	rows, err := table.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("coefficients of the daily weather: %w", err)
	}
	model := dailyModel{}
	for _, row := range rows[min(1, len(rows)):] {
		of, known := predictors[row[1]]
		by, err := strconv.ParseFloat(row[2], 64)
		if _, bounded := bounds[quantity(row[0])]; !known || !bounded || err != nil {
			return nil, fmt.Errorf("coefficients of the daily weather: no such line: %s", strings.Join(row, ","))
		}
		q := quantity(row[0])
		model[q] = append(model[q], term{row[1], of, by})
	}
	for q := range bounds {
		if len(model[q]) == 0 {
			return nil, fmt.Errorf("coefficients of the daily weather: nothing of %s", q)
		}
	}
	return model, nil
}

// at is a quantity at a place in a month.
func (d dailyModel) at(q quantity, p *place, m int) float64 {
	sum := 0.0
	for _, t := range d[q] {
		sum += t.by * t.of(p, m)
	}
	b := bounds[q]
	return min(b[1], max(b[0], sum))
}

// overYear is a quantity's mean over the months.
func (d dailyModel) overYear(q quantity, p *place) float64 {
	sum := 0.0
	for m := range 12 {
		sum += d.at(q, p, m) / 12
	}
	return sum
}
