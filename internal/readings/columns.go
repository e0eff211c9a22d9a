package readings

import (
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/weather"
)

// Columns says which of a table's columns holds what: our name, which carries
// the unit, to the file's name, or to #3 for the third column of a file
// without a header.
type Columns map[string]string

// columnUnits are the names that may stand before the = besides those of a
// plain CSV: units that only a person can vouch for.
var columnUnits = map[string]column{
	"tmin_10c": {of: weather.Tmin, scale: 0.1}, "tmax_10c": {of: weather.Tmax, scale: 0.1}, // tenths of a degree
	"rain_10mm": {of: weather.Rain, scale: 0.1}, "rain_cm": {of: weather.Rain, scale: 10},
	"humidity_1": {of: weather.Humidity, scale: 100}, // a fraction
	"sun_kwh_m2": {of: weather.Sunshine, scale: 1000 * wattHours}, "sun_wh_m2": {of: weather.Sunshine, scale: wattHours},
	"wind_kmh": {of: weather.Wind, scale: kilometresAnHour}, "wind10m_kt": {of: weather.Wind, scale: weather.WindAt2M(knots, weather.SynopticWindM)},
	"wind10m_mph": {of: weather.Wind, scale: weather.WindAt2M(milesAnHour, weather.SynopticWindM)},
}

// dateColumns are the ways to give the day. A date such as 3/4/2001 cannot be
// read without being told which number is the month.
var dateColumns = []string{"date", "date_dmy", "date_mdy", "year", "month", "day"}

// ParseColumns reads what a person writes: date=DATE,tmin_c=MinTemp,….
func ParseColumns(text string) (Columns, error) {
	c := Columns{}
	for _, pair := range strings.Split(text, ",") {
		ours, theirs, ok := strings.Cut(pair, "=")
		ours, theirs = strings.ToLower(strings.TrimSpace(ours)), strings.TrimSpace(theirs)
		if !ok || ours == "" || theirs == "" {
			return nil, fmt.Errorf("%q does not say what is in which column; write date=NAME,tmin_c=NAME,tmax_c=NAME,rain_mm=NAME", shorten(pair))
		}
		_, plain := plainColumns[ours]
		_, unit := columnUnits[ours]
		if !plain && !unit && !slices.Contains(dateColumns, ours) && ours != "station" {
			return nil, fmt.Errorf("%q is nothing that a column can hold; choose of %s", shorten(ours), strings.Join(columnNames(), ", "))
		}
		if c[ours] != "" {
			return nil, fmt.Errorf("%s is given twice", ours)
		}
		c[ours] = theirs
	}
	return c, nil
}

func columnNames() []string {
	names := slices.Collect(maps.Keys(plainColumns))
	names = slices.AppendSeq(names, maps.Keys(columnUnits))
	slices.Sort(names)
	return append(slices.Clone(dateColumns), names...)
}

// ReadColumns reads a table of days by the person's own word on its columns.
// They may be separated by commas, semicolons (decimal commas then), tabs or
// blanks; lines that begin with # are left out.
func ReadColumns(r io.Reader, name string, columns Columns, options ...Options) (*weather.Record, *Report, error) {
	rec, report, err := readColumns(r, columns, theOptions(options))
	return named(name, rec, report, err)
}

func readColumns(r io.Reader, columns Columns, o Options) (*weather.Record, *Report, error) {
	l, head, err := open(r)
	if err != nil {
		return nil, nil, err
	}
	b := newBuilder(o, "table by columns")
	t := newTable()
	t.missing = missingCode
	t.split = splitterOf(head)
	at, err := columns.find(l, &t)
	if err != nil {
		return nil, nil, err
	}
	if err := t.placeNamed(at, b); err != nil {
		return nil, nil, err
	}
	if err := t.read(l, b); err != nil {
		return nil, nil, err
	}
	return b.finish()
}

// splitterOf tells the separator by the first line that is no remark.
func splitterOf(head string) func(string, []string) []string {
	for line := range strings.Lines(head) {
		line = strings.TrimSpace(line)
		switch {
		case line == "" || strings.HasPrefix(line, "#"):
			continue
		case strings.Contains(line, ";"):
			return splitSemicolons
		case strings.Contains(line, ","):
			return splitCSV
		case strings.Contains(line, "\t"):
			return splitTabs
		}
		return splitBlanks
	}
	return splitCSV
}

// splitSemicolons: where columns are parted by semicolons, commas are decimal.
func splitSemicolons(line string, into []string) []string {
	for _, f := range strings.Split(line, ";") {
		into = append(into, strings.ReplaceAll(strings.Trim(strings.TrimSpace(f), `"`), ",", "."))
	}
	return into
}

func splitTabs(line string, into []string) []string {
	for _, f := range strings.Split(line, "\t") {
		into = append(into, strings.TrimSpace(f))
	}
	return into
}

// names are ours, in one order, so that the same fault is told each time.
func (c Columns) names() []string { return slices.Sorted(maps.Keys(c)) }

// find gives the place of each named column. Without a header, all columns are
// given by number and the first line is a day.
func (c Columns) find(l *lines, t *table) (map[string]int, error) {
	at := map[string]int{}
	byName := false
	for _, ours := range c.names() {
		theirs := c[ours]
		number, ok := strings.CutPrefix(theirs, "#")
		n, err := strconv.Atoi(number)
		if !ok {
			byName = true
			continue
		}
		if err != nil || n < 1 || n > 1000 {
			return nil, fmt.Errorf("%q is no number of a column such as #3", theirs)
		}
		at[ours] = n - 1
		t.fields = max(t.fields, n)
	}
	if !byName {
		return at, nil
	}
	names, err := headerOf(l, t)
	if err != nil {
		return nil, err
	}
	for _, ours := range c.names() {
		theirs := c[ours]
		if strings.HasPrefix(theirs, "#") {
			continue
		}
		i := slices.IndexFunc(names, func(n string) bool { return strings.EqualFold(n, theirs) })
		if i < 0 {
			return nil, fmt.Errorf("there is no column %q; the header has %s", theirs, shorten(strings.Join(names, ", ")))
		}
		at[ours] = i
	}
	t.fields = max(t.fields, len(names))
	return at, nil
}

func headerOf(l *lines, t *table) ([]string, error) {
	for raw, err := range l.rest() {
		if err != nil {
			return nil, err
		}
		if line := strings.TrimSpace(string(raw)); line != "" && !strings.HasPrefix(line, "#") {
			return t.split(line, nil), nil
		}
	}
	return nil, errors.New("the file has no header; name its columns by number, date=#1,tmin_c=#2,tmax_c=#3")
}

// placeNamed sets the table's columns up, each by our name for it.
func (t *table) placeNamed(at map[string]int, b *builder) error {
	if err := placeValues(t, at, b); err != nil {
		return err
	}
	if i, ok := at["station"]; ok {
		t.station = i
	}
	var err error
	t.date, err = dayColumns(at, b)
	return err
}

// placeValues sets up the columns of what was measured.
func placeValues(t *table, at map[string]int, b *builder) error {
	taken := map[weather.Variable]string{}
	for _, ours := range slices.Sorted(maps.Keys(at)) {
		col, ok := plainColumns[ours]
		if !ok {
			if col, ok = columnUnits[ours]; !ok {
				continue
			}
		}
		if other := taken[col.of]; other != "" {
			return fmt.Errorf("%s and %s both give the %s; keep one", other, ours, weather.Limits[col.of].Name)
		}
		taken[col.of] = ours
		col.index = at[ours]
		t.columns = append(t.columns, col)
		b.fahrenheit = b.fahrenheit || strings.HasSuffix(ours, "_f")
	}
	if taken[weather.Tmin] == "" || taken[weather.Tmax] == "" {
		return errors.New("say which columns hold the minimum and the maximum, with their unit: tmin_c=NAME,tmax_c=NAME, or tmin_f, tmax_f")
	}
	return nil
}

// dayColumns is how a row's day is read.
func dayColumns(at map[string]int, b *builder) (func([]string) (calendar.Date, error), error) {
	if i, ok := at["date_dmy"]; ok {
		return numbersDate(i, 2, 1, 0, b), nil
	}
	if i, ok := at["date_mdy"]; ok {
		return numbersDate(i, 2, 0, 1, b), nil
	}
	if i, ok := at["date"]; ok {
		return isoDate(i), nil
	}
	y, okY := at["year"]
	m, okM := at["month"]
	d, okD := at["day"]
	if !okY || !okM || !okD {
		return nil, errors.New("say which column holds the day: date=NAME (2001-12-31 or 20011231), date_dmy=NAME (31/12/2001), date_mdy=NAME (12/31/2001), or year=, month= and day=")
	}
	return partsDate(y, m, d), nil
}

// numbersDate reads a date of three numbers; y, m and d are the places of year,
// month and day among them.
func numbersDate(column, y, m, d int, b *builder) func([]string) (calendar.Date, error) {
	return func(row []string) (calendar.Date, error) {
		parts := strings.FieldsFunc(row[column], func(r rune) bool { return r < '0' || r > '9' })
		if len(parts) < 3 {
			return calendar.None, notADate(row[column])
		}
		year := parts[y]
		if len(year) == 2 {
			n, _ := strconv.Atoi(year)
			year = strconv.Itoa(b.twoDigitYear(n))
		}
		return civil(year, parts[m], parts[d], row[column])
	}
}
