package app

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strconv"

	"haulm/internal/crop"
	"haulm/internal/readings"
	"haulm/internal/trial"
	"haulm/internal/weather"
)

// soilThermometer is a record of the shared folder that has a soil thermometer
// in a column of its own.
type soilThermometer struct {
	where, file, column string
	depthCM             float64
	site                weather.Site
	splitYear           int // the last year that the seedbed's figures were fitted to
}

var dublinThermometer = soilThermometer{
	where: "Dublin Airport (Met Éireann)", file: "IE_dly532_dublin-airport.csv.gz", column: "soil", depthCM: 10,
	site: weather.Site{LatDeg: 53.428, LonDeg: -6.241, ElevM: 71}, splitYear: 2000,
}

// The years on which that record has both radiation and the thermometer.
const firstSoilYear, lastSoilYear = 1977, 2025

// seedbeds holds the seedbed against every soil thermometer of the shared
// folder: the years it was fitted to, then those it was not.
func seedbeds(shared string) ([]trial.Thermometer, error) {
	th := dublinThermometer
	text, err := readShared(shared, dailyFolder+th.file, unpacked)
	if err != nil {
		return nil, err
	}
	rec, _, err := readings.Read(bytes.NewReader(text), th.file)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", th.file, err)
	}
	rec.Site = th.site
	measured, err := numbersOf(text, th.column)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", th.file, err)
	}
	if len(measured) != rec.Days() {
		return nil, fmt.Errorf("%s: %d lines for %d days", th.file, len(measured), rec.Days())
	}
	return []trial.Thermometer{
		trial.HoldThermometer(th.where, rec, measured, th.depthCM, firstSoilYear, th.splitYear, true),
		trial.HoldThermometer(th.where, rec, measured, th.depthCM, th.splitYear+1, lastSoilYear, false),
	}, nil
}

// numbersOf reads one column of a CSV table; NaN where a cell holds no number.
func numbersOf(text []byte, column string) ([]float64, error) {
	table, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		return nil, err
	}
	at := slices.Index(table[0], column)
	if at < 0 {
		return nil, fmt.Errorf("no column %s", column)
	}
	values := make([]float64, 0, len(table)-1)
	for _, cells := range table[1:] {
		x, err := strconv.ParseFloat(cells[at], 64)
		if err != nil {
			x = math.NaN()
		}
		values = append(values, x)
	}
	return values, nil
}

// handbook holds the catalogue against a handbook's days to maturity.
func handbook(shared string, catalogue *crop.Catalogue) ([]trial.Framed, error) {
	list, err := readShared(shared, "reference/crops/thermal.csv", trial.ReadHandbook)
	if err != nil {
		return nil, err
	}
	return trial.FrameHandbook(list, catalogue)
}
