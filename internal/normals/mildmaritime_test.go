package normals

import (
	"bytes"
	"flag"
	"os"
	"testing"

	"haulm/internal/weather"
)

var update = flag.Bool("update", false, "write the table of monthly figures anew from the measured record")

const heading = `# Monthly figures of one place, from which daily weather is generated.
# Copyright Met Éireann. Source www.met.ie: daily data of Dublin Airport
# (station 532), 1991-2020. This data is published under a Creative Commons
# Attribution 4.0 International (CC BY 4.0),
# https://creativecommons.org/licenses/by/4.0/. Met Éireann does not accept any
# liability whatsoever for any error or omission in the data, their
# availability, or for any loss or damage arising from their use. Modified: the
# days were reduced to the statistics below (fit.go).
# What each column means stands at the type Month in ../year.go.
`

// TestMildMaritimeTable: the table that is shipped is what Fit makes of
// the record, and nobody's hand has been in it. With -update it is written.
func TestMildMaritimeTable(t *testing.T) {
	rec := dublin(t)
	rec.Site = weather.Site{LatDeg: 53.428, LonDeg: -6.241, ElevM: 71} // the key that Met Éireann gives with the file
	n := Fit(rec)
	n.Name = "Dublin Airport 1991–2020"
	n.Source = "Dublin Airport 1991–2020, Met Éireann, CC BY 4.0"
	table := bytes.NewBufferString(heading)
	if err := Write(table, n); err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile("data/mild_maritime.csv", table.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if table.String() != mildMaritime {
		t.Error("data/mild_maritime.csv is not what the record gives; if a figure's definition changed, run go generate")
	}
}
