package season

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

// Rule is one figure of this package with its range, source and grade.
type Rule struct {
	Name             string
	Low, Value, High float64
	Source, Grade    string
	Note             string
}

// Rules are the package's figures by name. They are part of the program, so a
// fault in them is the programmer's.
var Rules = sync.OnceValue(func() map[string]Rule {
	out := map[string]Rule{}
	for i, row := range rowsOf("rules", rulesCSV) {
		r := Rule{Name: row[0], Source: row[4], Grade: row[5], Note: row[6]}
		for j, to := range []*float64{&r.Low, &r.Value, &r.High} {
			value, err := strconv.ParseFloat(row[1+j], 64)
			if err != nil {
				panic(fmt.Sprintf("season: rules row %d: %v", i+1, err))
			}
			*to = value
		}
		out[r.Name] = r
	}
	return out
})

// rule is the value of a figure.
func rule(name string) float64 {
	r, ok := Rules()[name]
	if !ok {
		panic("season: no rule " + name)
	}
	return r.Value
}

// rowsOf reads an embedded table without its head.
func rowsOf(name, text string) [][]string {
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		panic("season: " + name + ": " + err.Error())
	}
	return rows[1:]
}
