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
// the minima of a region are than the climatology and the regressions say, and
// how much wider (or narrower) they spread, in spring and in autumn, at the
// middle of each half degree. It comes from measured freeze dates, drawn
// together from the stations around (regions_test.go), so far of the United
// States only; elsewhere there is none.

//go:embed data/regions.csv
var regionFile string

// region is the shift of a half degree.
type region struct {
	springC, autumnC           float64 // of the mean minimum
	springSpread, autumnSpread float64 // logarithm of the factor on the spread
}

// regionsPerDegree is how many such boxes a degree has each way.
const regionsPerDegree = 2

type regions map[[2]int]region // by the south-west corner, half degrees

func readRegions(text string) (regions, error) {
	table := csv.NewReader(strings.NewReader(text))
	table.Comment = '#'
	table.FieldsPerRecord = 6
	rows, err := table.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("regional shifts: %w", err)
	}
	out := regions{}
	for _, row := range rows[min(1, len(rows)):] {
		var x [6]float64
		for i, text := range row {
			if x[i], err = strconv.ParseFloat(text, 64); err != nil {
				return nil, fmt.Errorf("regional shifts: not a number: %s", strings.Join(row, ","))
			}
		}
		out[regionOf(x[0], x[1])] = region{x[2], x[3], x[4], x[5]}
	}
	return out, nil
}

func regionOf(latDeg, lonDeg float64) [2]int {
	return [2]int{int(math.Floor(latDeg * regionsPerDegree)), int(math.Floor(lonDeg * regionsPerDegree))}
}

// at is the shift of a place, between the middles of the boxes around it.
func (r regions) at(latDeg, lonDeg float64) (s region) {
	eachCorner(latDeg, lonDeg, func(key [2]int, weight float64) {
		d := r[key]
		s.springC += weight * d.springC
		s.autumnC += weight * d.autumnC
		s.springSpread += weight * d.springSpread
		s.autumnSpread += weight * d.autumnSpread
	})
	return s
}

// eachCorner shows the four boxes whose middles lie around a place, with their
// weights.
func eachCorner(latDeg, lonDeg float64, visit func(key [2]int, weight float64)) {
	y, x := latDeg*regionsPerDegree-0.5, lonDeg*regionsPerDegree-0.5
	row, col := math.Floor(y), math.Floor(x)
	for dy := range 2 {
		for dx := range 2 {
			weight := (1 - math.Abs(y-row-float64(dy))) * (1 - math.Abs(x-col-float64(dx)))
			visit([2]int{int(row) + dy, int(col) + dx}, weight)
		}
	}
}

// springness is 1 while the year warms, 0 while it cools, and between in the
// coldest and the warmest months.
func (p *place) springness(m int) float64 { return (1 + bound(0.8*p.turn(m), 1)) / 2 }

// A freeze date tells of the nights about freezing and not of midsummer or a
// hard winter: it counts fully in a month whose minimum is usually tellsC, and
// less by a bell of spread tellsWithinC (project choice: the mean minimum on the
// day of the middle date is 3 to 8 °C).
const tellsC, tellsWithinC = 5.0, 6.0

func (p *place) tells(m int) float64 {
	off := (p.year[tmin][m] - tellsC) / tellsWithinC
	return math.Exp(-off * off / 2)
}

// regionShift is a place's in a month.
func (p *place) regionShift(m int) float64 {
	spring := p.springness(m)
	return p.tells(m) * (spring*p.region.springC + (1-spring)*p.region.autumnC)
}

// regionSpread is the logarithm of the factor on a place's spread in a month.
func (p *place) regionSpread(m int) float64 {
	spring := p.springness(m)
	return p.tells(m) * (spring*p.region.springSpread + (1-spring)*p.region.autumnSpread)
}
