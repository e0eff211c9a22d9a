package kitchen

import (
	"embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
	"sync"

	"haulm/internal/calendar"
	"haulm/internal/crop"
)

//go:embed data/*.csv
var files embed.FS

// Source is where a figure of this package comes from.
type Source struct {
	Name  string
	Grade crop.Grade
	Note  string
}

// tierRule is one row of data/tiers.csv.
type tierRule struct {
	share, value float64
	Source
}

// hungrySeason is one row of data/hungry.csv; from and to are MM-DD.
type hungrySeason struct {
	name, from, to string
	bonus          float64
	Source
}

// defaultWant is one row of data/wants.csv.
type defaultWant struct {
	dish              string
	perPerson, liking float64
	Source
}

type tableSet struct {
	tiers            []tierRule
	hungry           []hungrySeason
	wants            []defaultWant
	noneBelow, above float64 // data/latitude.csv
}

// tables reads the embedded data once. They are part of the program, so a
// fault in them is the programmer's.
var tables = sync.OnceValue(func() tableSet {
	set, err := readTables()
	if err != nil {
		panic("kitchen: " + err.Error())
	}
	return set
})

func readTables() (tableSet, error) {
	var set tableSet
	var faults []error
	each("tiers", &faults, func(r row) {
		set.tiers = append(set.tiers, tierRule{r.number("share_of_want"), r.number("value_per_portion"), r.source()})
	})
	each("hungry", &faults, func(r row) {
		set.hungry = append(set.hungry, hungrySeason{r.text("season"), r.day("from_month_day_north"),
			r.day("to_month_day_north"), r.number("bonus"), r.source()})
	})
	each("wants", &faults, func(r row) {
		set.wants = append(set.wants, defaultWant{r.text("dish"), r.number("portions_per_person_week"), r.number("liking"), r.source()})
	})
	each("latitude", &faults, func(r row) {
		switch r.text("name") {
		case "hungry_none_below":
			set.noneBelow = r.number("value")
		case "hungry_full_above":
			set.above = r.number("value")
		}
	})
	if len(faults) > 0 {
		return set, faults[0]
	}
	return set, nil
}

// row is one line of a table by column name; it notes what it cannot read.
type row struct {
	where  string
	cells  map[string]string
	faults *[]error
}

func each(table string, faults *[]error, use func(row)) {
	raw, err := files.ReadFile("data/" + table + ".csv")
	if err != nil {
		*faults = append(*faults, err)
		return
	}
	lines, err := csv.NewReader(strings.NewReader(string(raw))).ReadAll()
	if err != nil {
		*faults = append(*faults, fmt.Errorf("%s: %w", table, err))
		return
	}
	for i, line := range lines[1:] {
		r := row{fmt.Sprintf("%s row %d", table, i+1), map[string]string{}, faults}
		for j, name := range lines[0] {
			r.cells[name] = line[j]
		}
		use(r)
	}
}

func (r row) text(column string) string {
	v, ok := r.cells[column]
	if !ok {
		*r.faults = append(*r.faults, fmt.Errorf("%s: no column %s", r.where, column))
	}
	return v
}

func (r row) number(column string) float64 {
	v, err := strconv.ParseFloat(r.text(column), 64)
	if err != nil {
		*r.faults = append(*r.faults, fmt.Errorf("%s: %s: %w", r.where, column, err))
	}
	return v
}

func (r row) day(column string) string {
	md, err := calendar.ParseMonthDay(r.text(column))
	if err != nil {
		*r.faults = append(*r.faults, fmt.Errorf("%s: %s: %w", r.where, column, err))
	}
	return md.String()
}

func (r row) source() Source {
	return Source{r.text("source"), crop.Grade(r.text("grade")), r.cells["note"]}
}
