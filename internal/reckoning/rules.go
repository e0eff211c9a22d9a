package reckoning

import (
	_ "embed"
	"sync"

	"haulm/internal/graded"
)

//go:embed data/rules.csv
var rulesCSV string

// rules are the package's figures by name.
var rules = sync.OnceValue(func() graded.Figures { return graded.MustRead("reckoning: rules", rulesCSV) })

// rule is the value of a figure.
func rule(name string) float64 { return rules().Value(name) }
