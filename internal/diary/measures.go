package diary

import (
	_ "embed"
	"sync"

	"haulm/internal/graded"
)

//go:embed data/measures.csv
var measuresCSV string

// Measures are the household measures by name.
var Measures = sync.OnceValue(func() graded.Figures { return graded.MustRead("diary: measures", measuresCSV) })

func measure(name string) float64 { return Measures().Value(name) }
