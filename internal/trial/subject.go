package trial

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"

	"haulm/internal/crop"
)

//go:embed data/subjects.csv
var subjectTable string

// Subject is how a published planting is read as one of ours.
type Subject struct {
	Crop  *crop.Crop
	Class string
	Route *crop.Route
	Cover crop.Cover
	Why   string // where the reading is not plain

	seedlingDays int // age of plants set out where the row does not tell; 0 = as is usual
}

// reading is a line of the table of subjects: a published crop, and a word of
// its cultivar, by which it is known.
type reading struct {
	published, cultivarHas, key, class, route, why string
	seedlingDays                                   int
}

func readings() ([]reading, error) {
	table, err := csv.NewReader(strings.NewReader(subjectTable)).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("table of subjects: %w", err)
	}
	list := make([]reading, 0, len(table)-1)
	for _, cells := range table[1:] {
		days := 0
		if cells[5] != "" {
			if days, err = strconv.Atoi(cells[5]); err != nil {
				return nil, fmt.Errorf("table of subjects: %w", err)
			}
		}
		list = append(list, reading{cells[0], cells[1], cells[2], cells[3], cells[4], cells[6], days})
	}
	return list, nil
}

// Read finds what of ours a row speaks of. A crop that the table of subjects
// does not name is looked for in the catalogue, and "early" or "late" in its
// cultivar is believed.
func Read(row Row, catalogue *crop.Catalogue) (Subject, error) {
	list, err := readings()
	if err != nil {
		return Subject{}, err
	}
	found := reading{class: "mid"}
	for _, try := range list {
		if try.published == row.Crop && strings.Contains(row.Cultivar, try.cultivarHas) {
			found = try
			break
		}
	}
	s := Subject{Crop: catalogue.Crop(found.key), Class: found.class, Why: found.why, seedlingDays: found.seedlingDays}
	if s.Crop == nil {
		if s.Crop, err = catalogue.Find(row.Crop); err != nil {
			return s, fmt.Errorf("%s: %w", row.ID, err)
		}
		s.Class = classWord(row.Cultivar)
	}
	if s.Route, err = routeOf(s.Crop, found.route, row); err != nil {
		return s, err
	}
	s.Cover, err = catalogue.Cover(coverOf(row.Protection))
	return s, err
}

func classWord(cultivar string) string {
	for _, class := range []string{"early", "late"} {
		if strings.Contains(strings.ToLower(cultivar), class) {
			return class
		}
	}
	return "mid"
}

// routeOf is the route the table names, else the crop's first that is raised
// for a row that was set out, or its first that is not for one that was sown.
func routeOf(cr *crop.Crop, named string, row Row) (*crop.Route, error) {
	if named != "" {
		return cr.Route(named)
	}
	if first := cr.FirstRoute(func(r *crop.Route) bool { return r.Raised == row.SetOut.Known() }); first != nil {
		return first, nil
	}
	return nil, fmt.Errorf("%s: %s has no route for plants %s", row.ID, cr.Name, map[bool]string{true: "set out", false: "sown in place"}[row.SetOut.Known()])
}

// coverOf is the cover of a row's protection. Mulches are not modelled.
func coverOf(protection string) string {
	if strings.Contains(protection, "tunnel") {
		return "tunnel"
	}
	return ""
}
