package trial

import (
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/weather"
)

// Row is one published planting. Dates that were not published are
// calendar.None.
type Row struct {
	ID       string
	Crop     string // as published
	Cultivar string
	Place    string
	Site     weather.Site

	Sown, SetOut calendar.Date // the first, of several sowings told together
	SeedlingDays int           // age of plants set out; 0 = not told
	Emerged      calendar.Date
	First, Last  calendar.Date // harvest
	Kind         string        // what First means: dig, first pick, dry maturity …
	HarvestDays  [2]int        // sowing to harvest, where only a range was published
	Protection   string
	Notes        string
	Stations     []string // four letters each of the weather files named; none = no weather of its own
}

// Bound says what a row's harvest tells of readiness.
type Bound int

// The bounds.
const (
	Unknown  Bound = iota // no harvest date
	Dated                 // the harvest came when the crop was ready
	FromOver              // the crop was ready by then at the latest: dug, dry, or at its end
	Killed                // the crop was lost, and must be
	Ranged                // only a range of days was published
)

// Bound reads the row's kind of harvest.
func (r Row) Bound() Bound {
	switch kind := strings.ToLower(r.Kind); {
	case strings.Contains(kind, "winter-killed"):
		return Killed
	case r.HarvestDays[1] > 0:
		return Ranged
	case !r.First.Known() && !r.Last.Known():
		return Unknown
	case strings.HasPrefix(kind, "dig"), strings.HasPrefix(kind, "dry"),
		strings.Contains(kind, "end of crop"), strings.Contains(kind, "final pick"), strings.Contains(kind, "over-mature"),
		strings.Contains(r.Notes, "mature earlier"):
		return FromOver
	}
	return Dated
}

// Harvest is the day that the row's bound speaks of.
func (r Row) Harvest() calendar.Date {
	if r.First.Known() {
		return r.First
	}
	return r.Last
}

// columns are those of the table of trials that are read.
var columns = []string{
	"id", "crop", "cultivar_class", "place", "lat", "lon", "elev_m", "sow_date", "transplant_date", "emergence_date",
	"first_harvest", "last_harvest", "harvest_kind", "protection", "notes", "site_weather_in_source",
}

// ReadRows reads the table of published trials. Errors name the row.
func ReadRows(from io.Reader) ([]Row, error) {
	lines, err := linesOf(from, columns)
	if err != nil {
		return nil, fmt.Errorf("table of trials: %w", err)
	}
	rows := make([]Row, 0, len(lines))
	for _, l := range lines {
		row, err := readRow(func(name string) string { return strings.TrimSpace(l.cell(name)) })
		if err != nil {
			return nil, fmt.Errorf("table of trials, line %d: %s: %w", l.number, row.ID, err)
		}
		rows = append(rows, row)
	}
	return rows, nil
}

func readRow(cell func(string) string) (Row, error) {
	r := Row{
		ID: cell("id"), Crop: cell("crop"), Cultivar: cell("cultivar_class"), Place: cell("place"), Kind: cell("harvest_kind"),
		Protection: cell("protection"), Notes: cell("notes"),
	}
	for _, file := range strings.Split(cell("site_weather_in_source"), "/") {
		if len(file) >= 4 {
			r.Stations = append(r.Stations, file[:4])
		}
	}
	for _, n := range []struct {
		name string
		into *float64
	}{{"lat", &r.Site.LatDeg}, {"lon", &r.Site.LonDeg}, {"elev_m", &r.Site.ElevM}} {
		x, err := strconv.ParseFloat(cell(n.name), 64)
		if err != nil {
			return r, fmt.Errorf("%s %q is no number", n.name, cell(n.name))
		}
		*n.into = x
	}
	for _, d := range []struct {
		name string
		into *calendar.Date
	}{{"sow_date", &r.Sown}, {"transplant_date", &r.SetOut}, {"emergence_date", &r.Emerged}, {"first_harvest", &r.First}, {"last_harvest", &r.Last}} {
		day, err := rowDate(cell(d.name))
		if err != nil {
			return r, fmt.Errorf("%s: %w", d.name, err)
		}
		*d.into = day
	}
	if !r.Sown.Known() && !r.SetOut.Known() {
		return r, errors.New("neither sown nor set out")
	}
	r.SeedlingDays = seedlingDays(r.Notes)
	r.HarvestDays = harvestDays(r.Kind, r.Notes)
	return r, nil
}

// rowDate reads an ISO date, the first of several parted by a slash; a month
// alone is its middle, and words (a range told in the kind of harvest) are no
// date.
func rowDate(text string) (calendar.Date, error) {
	text, _, _ = strings.Cut(text, "/")
	switch {
	case text == "" || strings.HasPrefix(text, "range"):
		return calendar.None, nil
	case len(text) == len("2006-01"):
		text += "-15"
	}
	return calendar.Parse(text)
}

var (
	ageWords   = regexp.MustCompile(`(\d+)(?:-(\d+))? d old`)
	rangeWords = regexp.MustCompile(`range: (\d+)-(\d+) d sow-harvest`)
	setWords   = regexp.MustCompile(`cuts scheduled at (\d+)-(\d+) wk`)
)

// seedlingDays finds "24-29 d old transplants" in a note: the middle of it.
func seedlingDays(notes string) int {
	found := ageWords.FindStringSubmatch(notes)
	if found == nil {
		return 0
	}
	low, _ := strconv.Atoi(found[1])
	high, err := strconv.Atoi(found[2])
	if err != nil {
		high = low
	}
	return (low + high + 1) / 2
}

// harvestDays is the range of days in which a trial cut, where its kind of
// harvest tells no more; or where plots were first cut one after another by a
// schedule, the range of that: a day on a schedule does not say when a crop was
// ready.
func harvestDays(kind, notes string) (days [2]int) {
	found, unit := rangeWords.FindStringSubmatch(kind), 1
	if found == nil {
		found, unit = setWords.FindStringSubmatch(notes), 7
	}
	if found == nil {
		return days
	}
	for i := range days {
		days[i], _ = strconv.Atoi(found[i+1])
		days[i] *= unit
	}
	return days
}
