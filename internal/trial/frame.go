package trial

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/weather"
)

// Maturity is a published range of days to maturity of a crop, early kinds to
// late.
type Maturity struct {
	Key          string
	Early, Late  int
	Transplanted bool // counted from setting out
}

// ReadMaturity reads a table of days to maturity (crop, early_d, late_d, note).
func ReadMaturity(from io.Reader) ([]Maturity, error) {
	lines, err := linesOf(from, []string{"crop", "early_d", "late_d", "note"})
	if err != nil {
		return nil, fmt.Errorf("days to maturity: %w", err)
	}
	var list []Maturity
	for _, l := range lines {
		early, err1 := strconv.Atoi(l.cell("early_d"))
		late, err2 := strconv.Atoi(l.cell("late_d"))
		if err1 != nil || err2 != nil {
			return nil, fmt.Errorf("days to maturity, line %d: %q and %q should be days", l.number, l.cell("early_d"), l.cell("late_d"))
		}
		list = append(list, Maturity{l.cell("crop"), early, late, strings.Contains(l.cell("note"), "transplant")})
	}
	return list, nil
}

// Framed is a published range held against the model's: from the middling
// year of early kinds to that of late kinds.
type Framed struct {
	Name            string
	Low, High       int // published
	OurLow, OurHigh int // grow.Never where they do not finish
}

// Meet says whether the ranges have days in common.
func (f Framed) Meet() bool { return f.OurLow <= f.High && f.Low <= f.OurHigh }

// The days on which North Dakota's gardens are sown, by whether the crop stands
// spring frosts (common practice).
var hardyDay, tenderDay = calendar.MonthDay{Month: 5, Day: 5}, calendar.MonthDay{Month: 5, Day: 25}

// hardyMinSoilC parts the seed that is sown in cool soil from the rest.
const hardyMinSoilC = 8

// FrameMaturity grows every crop of a table of days to maturity in a climate
// and holds the days against it. Crops that the catalogue does not have are
// left out.
func FrameMaturity(list []Maturity, w Weather, catalogue *crop.Catalogue) ([]Framed, error) {
	var framed []Framed
	for _, m := range list {
		cr := catalogue.Crop(m.Key)
		if cr == nil || cr.Perennial {
			continue
		}
		f := Framed{Name: cr.Name, Low: m.Early, High: m.Late}
		row := Row{ID: m.Key, Sown: tenderDay.In(2001), SetOut: calendar.None}
		if cr.Germination.MinSoilC < hardyMinSoilC {
			row.Sown = hardyDay.In(2001)
		}
		if m.Transplanted {
			row.SetOut, row.Sown = row.Sown, calendar.None
		}
		route, err := routeOf(cr, "", row)
		if err != nil {
			continue // the catalogue raises it the other way only
		}
		if f.OurLow, f.OurHigh, err = earlyToLate(cr, route, row, w, catalogue); err != nil {
			return nil, err
		}
		framed = append(framed, f)
	}
	return framed, nil
}

// StageLength is a line of FAO-56 Table 11 read for a crop of ours: days from
// planting to the end of the season at a place and month.
type StageLength struct {
	Key, Region string
	Month       int
	SetOut      bool // the table's planting is of raised plants
	TotalDays   int
	FromDays    int // day from which it may be picked: the mid-season's first for what is picked over weeks, else the late season's
	SiteName    string
	Site        weather.Site // that stands for the region
}

//go:embed data/stages.csv
var stageTable string

// Stages reads the lines of FAO-56 Table 11 that are compared.
func Stages() ([]StageLength, error) {
	table, err := csv.NewReader(strings.NewReader(stageTable)).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("table of stage lengths: %w", err)
	}
	var list []StageLength
	for n, cells := range table[1:] {
		var numbers [6]float64
		for i, at := range []int{3, 5, 6, 8, 9, 10} {
			if numbers[i], err = strconv.ParseFloat(cells[at], 64); err != nil {
				return nil, fmt.Errorf("table of stage lengths, line %d: %w", n+2, err)
			}
		}
		list = append(list, StageLength{
			Key: cells[2], Region: cells[1], Month: int(numbers[0]), SetOut: cells[4] == "yes",
			TotalDays: int(numbers[1]), FromDays: int(numbers[2]), SiteName: cells[7],
			Site: weather.Site{LatDeg: numbers[3], LonDeg: numbers[4], ElevM: numbers[5]},
		})
	}
	return list, nil
}

// FrameStages holds the day by which the model's crop of middling kind is ready
// against the days of the table in which it is harvested.
func FrameStages(s StageLength, w Weather, catalogue *crop.Catalogue) (Framed, error) {
	cr := catalogue.Crop(s.Key)
	if cr == nil {
		return Framed{}, fmt.Errorf("no crop %s", s.Key)
	}
	f := Framed{Name: fmt.Sprintf("%s, %s (%s), %s", cr.Name, s.Region, s.SiteName, time.Month(s.Month)), Low: s.FromDays, High: s.TotalDays}
	row := Row{ID: s.Key, Sown: calendar.MonthDay{Month: time.Month(s.Month), Day: 15}.In(2001), SetOut: calendar.None}
	if s.SetOut {
		row.SetOut, row.Sown = row.Sown, calendar.None
	}
	route, err := routeOf(cr, "", row)
	if err != nil {
		return f, err
	}
	f.OurLow, f.OurHigh, err = earlyToLate(cr, route, row, w, catalogue)
	return f, err
}
