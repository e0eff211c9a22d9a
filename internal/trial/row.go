package trial

import (
	"encoding/csv"
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

	Sown, SetOut  calendar.Date
	SownLast      calendar.Date // last of several sowings told together, else None
	SeedlingDays  int           // age of plants set out; 0 = not told
	Emerged       calendar.Date
	First, Last   calendar.Date // harvest
	Kind          string        // what First means: dig, first pick, dry maturity …
	HarvestDays   [2]int        // sowing to harvest, where only a range was published
	Protection    string
	PrecisionDays int // half-width of the dates
	Notes, Source string
	Stations      []string // four letters each of the weather files named; none = no weather of its own
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

// columns are those of the table of trials that are read; others may stand
// beside them.
var columns = []string{
	"id", "crop", "cultivar_class", "place", "lat", "lon", "elev_m", "sow_date", "transplant_date", "emergence_date", "other_stage",
	"first_harvest", "last_harvest", "harvest_kind", "protection", "precision_days", "notes", "source", "site_weather_in_source",
}

// ReadRows reads the table of published trials. Errors name the row.
func ReadRows(from io.Reader) ([]Row, error) {
	table, err := csv.NewReader(from).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("table of trials: %w", err)
	}
	if len(table) < 2 {
		return nil, fmt.Errorf("table of trials: it has no rows")
	}
	at, err := placesOf(table[0], columns)
	if err != nil {
		return nil, fmt.Errorf("table of trials: %w", err)
	}
	rows := make([]Row, 0, len(table)-1)
	for n, cells := range table[1:] {
		row, err := readRow(func(name string) string { return strings.TrimSpace(cells[at[name]]) })
		if err != nil {
			return nil, fmt.Errorf("table of trials, line %d: %w", n+2, err)
		}
		rows = append(rows, row)
	}
	return rows, nil
}

// placesOf finds a table's columns by their names; those wanted must be there.
func placesOf(header, wanted []string) (map[string]int, error) {
	at := map[string]int{}
	for i, name := range header {
		at[name] = i
	}
	for _, name := range wanted {
		if _, ok := at[name]; !ok {
			return nil, fmt.Errorf("it has no column %s", name)
		}
	}
	return at, nil
}

func readRow(cell func(string) string) (Row, error) {
	r := Row{
		ID: cell("id"), Crop: cell("crop"), Cultivar: cell("cultivar_class"), Place: cell("place"), Kind: cell("harvest_kind"),
		Protection: cell("protection"), Notes: cell("notes"), Source: cell("source"), SownLast: calendar.None,
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
			return r, fmt.Errorf("%s: %s %q is no number", r.ID, n.name, cell(n.name))
		}
		*n.into = x
	}
	sown := cell("sow_date")
	if first, last, several := strings.Cut(sown, "/"); several {
		sown = first
		day, err := rowDate(last)
		if err != nil {
			return r, fmt.Errorf("%s: sow_date: %w", r.ID, err)
		}
		r.SownLast = day
	}
	for _, d := range []struct {
		name, text string
		into       *calendar.Date
	}{
		{"sow_date", sown, &r.Sown}, {"transplant_date", cell("transplant_date"), &r.SetOut}, {"emergence_date", cell("emergence_date"), &r.Emerged},
		{"first_harvest", cell("first_harvest"), &r.First}, {"last_harvest", cell("last_harvest"), &r.Last},
	} {
		day, err := rowDate(d.text)
		if err != nil {
			return r, fmt.Errorf("%s: %s: %w", r.ID, d.name, err)
		}
		*d.into = day
	}
	if !r.Sown.Known() && !r.SetOut.Known() {
		return r, fmt.Errorf("%s: neither sown nor set out", r.ID)
	}
	r.PrecisionDays, _ = strconv.Atoi(cell("precision_days"))
	r.SeedlingDays = seedlingDays(r.Notes)
	r.HarvestDays = harvestDays(r.Kind, r.Notes)
	return r, nil
}

// rowDate reads an ISO date; a month alone is its middle, and words (a range
// told in the kind of harvest) are no date.
func rowDate(text string) (calendar.Date, error) {
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
