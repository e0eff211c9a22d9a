package packed

import (
	"math"
	"strings"
)

// Step is the grid of coordinates in degrees: 0.001° is 111 m of latitude,
// finer than "where in the village".
const Step = 0.001

// Country is an ISO 3166-1 country or territory.
type Country struct {
	Code  string // two letters
	Name  string // in English
	Other []string
}

// Region is a first-order division of a country (for Great Britain and Ireland
// the county with its nation or province), or the whole of a small country.
type Region struct {
	Country int    // index in Table.Countries
	Name    string // "" where the country has none
	Code    string // what people write after a comma ("IL", "NSW"), or ""
	First   int    // its places are First up to End
	End     int
}

// Table is the gazetteer by columns; row i of each column is place i.
type Table struct {
	Zones     []string // IANA time zone names
	Countries []Country
	Regions   []Region

	Lat, Lon  []int32  // in steps
	ElevM     []int16  // ground height above the sea
	Region    []uint16 // index in Regions
	Zone      []uint16 // index in Zones
	Pop       []uint8  // see People
	Estimated []bool   // the height is a neighbour's

	// Text holds a line for each place: its name and, after a tab each, its other
	// spellings. LineEnds says where each line's "\n" stands.
	Text     string
	LineEnds []uint32
}

// Len is the number of places.
func (t *Table) Len() int { return len(t.LineEnds) }

// Line is a place's name and other spellings, parted by tabs.
func (t *Table) Line(i int) string {
	if i == 0 {
		return t.Text[:t.LineEnds[0]]
	}
	return t.Text[t.LineEnds[i-1]+1 : t.LineEnds[i]]
}

// Name is a place's own name.
func (t *Table) Name(i int) string {
	name, _, _ := strings.Cut(t.Line(i), "\t")
	return name
}

// People turns the log scale into a number of people, exact to 4 %; 0 is unknown.
func People(code uint8) int {
	if code == 0 {
		return 0
	}
	people := math.Exp2(float64(code-1) / 10)
	if people < 100 {
		return int(math.Round(people))
	}
	size := math.Pow(10, math.Floor(math.Log10(people))-1)
	return int(math.Round(people/size) * size) // two figures: the scale holds no more
}

// PeopleCode is the inverse of People.
func PeopleCode(people int) uint8 {
	if people <= 0 {
		return 0
	}
	return uint8(min(255, 1+math.Round(10*math.Log2(float64(people)))))
}
