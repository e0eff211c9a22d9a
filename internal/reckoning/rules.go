package reckoning

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
	"sync"
)

//go:embed data/rules.csv
var rulesCSV string

// rules are the package's figures by name, each beside its source in
// data/rules.csv. They are part of the program, so a fault in them is the
// programmer's.
var rules = sync.OnceValue(func() map[string]float64 {
	rows, err := csv.NewReader(strings.NewReader(rulesCSV)).ReadAll()
	if err != nil {
		panic("reckoning: rules: " + err.Error())
	}
	out := map[string]float64{}
	for i, row := range rows[1:] {
		value, err := strconv.ParseFloat(row[2], 64)
		if err != nil {
			panic(fmt.Sprintf("reckoning: rules row %d: %v", i+1, err))
		}
		out[row[0]] = value
	}
	return out
})

// rule is the value of a figure.
func rule(name string) float64 {
	value, ok := rules()[name]
	if !ok {
		panic("reckoning: no rule " + name)
	}
	return value
}
