package season

import (
	_ "embed"
	"sync"

	"haulm/internal/graded"
)

//go:embed data/rules.csv
var rulesCSV string

// Rules are the package's figures by name.
var Rules = sync.OnceValue(func() graded.Figures { return graded.MustRead("season: rules", rulesCSV) })

// rule is the value of a figure.
func rule(name string) float64 { return Rules().Value(name) }
