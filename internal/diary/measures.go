package diary

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
	"sync"
)

//go:embed data/measures.csv
var measuresCSV string

// Measure is one household measure with how sure it is.
type Measure struct {
	Name             string
	Low, Value, High float64
	Source, Grade    string
	Note             string
}

// Measures are the household measures by name; they are part of the program,
// so a fault in them is the programmer's.
var Measures = sync.OnceValue(func() map[string]Measure {
	rows, err := csv.NewReader(strings.NewReader(measuresCSV)).ReadAll()
	if err != nil {
		panic("diary: " + err.Error())
	}
	out := map[string]Measure{}
	for i, row := range rows[1:] {
		m := Measure{Name: row[0], Source: row[4], Grade: row[5], Note: row[6]}
		for j, to := range []*float64{&m.Low, &m.Value, &m.High} {
			if *to, err = strconv.ParseFloat(row[1+j], 64); err != nil {
				panic(fmt.Sprintf("diary: measures row %d: %v", i+1, err))
			}
		}
		out[m.Name] = m
	}
	return out
})

func measure(name string) float64 { return Measures()[name].Value }
