package garden

import (
	_ "embed"
	"strings"
)

// DemoText is the text form of the demonstration garden: Lowmoor Cottage, an
// invented place for an invented household of four.
//
//go:embed data/demo.toml
var DemoText string

// Demo is the garden of DemoText as it stands in the first days of January.
func Demo() *Garden {
	g, err := Parse(strings.NewReader(DemoText))
	if err != nil {
		panic("garden: the embedded demonstration cannot be read: " + err.Error())
	}
	return g
}
