package climatology

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// What the regressions leave and neighbours share: how much warmer (or colder)
// the minima of a region are than the climatology and the regressions say, in
// spring and in autumn, °C, at the middle of each whole degree. It comes from
// measured freeze dates smoothed over some 45 km and shrunk where they are few
// (regions_test.go), so far of the United States only; elsewhere it is 0.

//go:embed data/regions.csv
var regionFile string

// region is the shift of a degree.
type region struct{ springC, autumnC float64 }

type regions map[[2]int]region // by the south-west corner

func readRegions(text string) (regions, error) {
	table := csv.NewReader(strings.NewReader(text))
	table.Comment = '#'
	table.FieldsPerRecord = 4
	rows, err := table.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("regional shifts: %w", err)
	}
	out := regions{}
	for _, row := range rows[min(1, len(rows)):] {
		var x [4]float64
		for i, text := range row {
			if x[i], err = strconv.ParseFloat(text, 64); err != nil {
				return nil, fmt.Errorf("regional shifts: not a number: %s", strings.Join(row, ","))
			}
		}
		out[[2]int{int(x[0]), int(x[1])}] = region{x[2], x[3]}
	}
	return out, nil
}

// at is the shift of a place, between the middles of the degrees around it.
func (r regions) at(latDeg, lonDeg float64) (s region) {
	y, x := latDeg-0.5, lonDeg-0.5
	row, col := math.Floor(y), math.Floor(x)
	for dy := range 2 {
		for dx := range 2 {
			weight := (1 - math.Abs(y-row-float64(dy))) * (1 - math.Abs(x-col-float64(dx)))
			d := r[[2]int{int(row) + dy, int(col) + dx}]
			s.springC += weight * d.springC
			s.autumnC += weight * d.autumnC
		}
	}
	return s
}

// regionShift is a place's in a month: spring's while the year warms, autumn's
// while it cools, and between them in the coldest and the warmest months.
func (p *place) regionShift(m int) float64 {
	spring := (1 + bound(0.8*p.turn(m), 1)) / 2
	return spring*p.region.springC + (1-spring)*p.region.autumnC
}
