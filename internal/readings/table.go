package readings

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/weather"
)

// column says where in a row a variable stands and how to bring it to our unit.
type column struct {
	index int
	of    weather.Variable
	scale float64
	shift float64 // added before scaling
}

func (c column) value(x float64) float64 { return (x + c.shift) * c.scale }

// table reads rows of separated fields, one day each.
type table struct {
	columns  []column
	fields   int // fewest fields that a whole row has
	date     func(row []string) (calendar.Date, error)
	station  int // column of the station, -1 where there is none
	split    func(line string, into []string) []string
	missing  func(x float64) bool               // the format's own codes for no value
	adjust   func(*[weather.Variables]float64)  // last touch to a row, may be nil
	humidity [2]int                             // columns of the highest and lowest humidity, -1 where there are none
	check    func(row []string, line int) error // may be nil
}

func newTable() table {
	return table{station: -1, split: splitCSV, missing: neverMissing, humidity: [2]int{-1, -1}}
}

func neverMissing(float64) bool { return false }

// read reads all rows that follow.
func (t *table) read(l *lines, b *builder) error {
	var row []string
	for raw, err := range l.rest() {
		if err != nil {
			return err
		}
		line := string(raw)
		if strings.TrimSpace(line) == "" || strings.HasPrefix(line, "#") {
			continue
		}
		row = t.split(line, row[:0])
		if len(row) < t.fields {
			err = l.short(b, fewerThanHeader(len(row)))
		} else {
			err = t.readRow(row, l.n, b)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

func fewerThanHeader(columns int) string {
	return fmt.Sprintf("%d columns where the header has more", columns)
}

func (t *table) readRow(row []string, line int, b *builder) error {
	if t.check != nil {
		if err := t.check(row, line); err != nil {
			return err
		}
	}
	if err := t.oneStation(row, line, b); err != nil {
		return err
	}
	d, err := t.date(row)
	if err != nil {
		b.report.reject(line, calendar.None, err.Error()+": left out")
		return nil
	}
	values := noValues()
	for _, c := range t.columns {
		x, err := t.number(row[c.index])
		if err != nil {
			b.report.reject(line, d, fmt.Sprintf("%s: %v: left out", weather.Limits[c.of].Name, err))
			continue
		}
		values[c.of] = c.value(x)
	}
	if hi, lo := t.humidity[0], t.humidity[1]; hi >= 0 && lo >= 0 {
		high, err1 := t.number(row[hi])
		low, err2 := t.number(row[lo])
		if err1 == nil && err2 == nil {
			values[weather.Humidity] = (high + low) / 2
		}
	}
	if t.adjust != nil {
		t.adjust(&values)
	}
	return b.putRow(d, line, values)
}

// oneStation keeps a file of several stations from becoming one record.
func (t *table) oneStation(row []string, line int, b *builder) error {
	if t.station < 0 {
		return nil
	}
	id := strings.TrimSpace(row[t.station])
	return b.station(id, line)
}

// station notes whose the data are; a second station is an error.
func (b *builder) station(id string, line int) error {
	if b.rec.Station == "" {
		b.rec.Station = id
	}
	if id != b.rec.Station {
		return fmt.Errorf("the file holds more than one station (%s, then %s in line %d); keep the lines of one", b.rec.Station, id, line)
	}
	return nil
}

// number reads one field; empty and the usual words for nothing are NaN.
func (t *table) number(field string) (float64, error) {
	field = strings.TrimSpace(field)
	switch field {
	case "", "NA", "NaN", "nan", "-", "M", "na", "N/A", "null", "None":
		return math.NaN(), nil
	case "T", "t", "Trace", "trace": // rain too little to measure
		return 0, nil
	}
	x, err := strconv.ParseFloat(field, 64)
	if err != nil || math.IsInf(x, 0) {
		return 0, fmt.Errorf("%q is not a number", cutTo(field, 20))
	}
	if t.missing(x) {
		return math.NaN(), nil
	}
	return x, nil
}

// splitCSV cuts a line at commas outside double quotes and takes the quotes off.
func splitCSV(line string, into []string) []string {
	for {
		if !strings.HasPrefix(line, `"`) {
			field, rest, more := strings.Cut(line, ",")
			into = append(into, strings.TrimSpace(field))
			if !more {
				return into
			}
			line = rest
			continue
		}
		end := strings.IndexByte(line[1:], '"')
		if end < 0 {
			return append(into, line[1:])
		}
		into = append(into, strings.TrimSpace(line[1:1+end]))
		rest := line[end+2:]
		if !strings.HasPrefix(rest, ",") {
			return into
		}
		line = rest[1:]
	}
}

// splitBlanks cuts a line at runs of blanks.
func splitBlanks(line string, into []string) []string {
	return append(into, strings.Fields(line)...)
}

// isoDate reads 2027-03-20 or 20270320 from column i.
func isoDate(i int) func([]string) (calendar.Date, error) {
	return func(row []string) (calendar.Date, error) {
		text := row[i]
		if len(text) >= 10 && text[4] == '-' && text[7] == '-' {
			return civil(text[:4], text[5:7], text[8:10], text)
		}
		if len(text) == 8 {
			return civil(text[:4], text[4:6], text[6:], text)
		}
		return calendar.None, notADate(text)
	}
}

// partsDate reads a date kept in three columns.
func partsDate(y, m, d int) func([]string) (calendar.Date, error) {
	return func(row []string) (calendar.Date, error) {
		return civil(row[y], row[m], row[d], strings.Join([]string{row[y], row[m], row[d]}, "-"))
	}
}

func civil(year, month, dayOfMonth, shown string) (calendar.Date, error) {
	y, err1 := strconv.Atoi(strings.TrimSpace(year))
	m, err2 := strconv.Atoi(strings.TrimSpace(month))
	d, err3 := strconv.Atoi(strings.TrimSpace(dayOfMonth))
	if err1 != nil || err2 != nil || err3 != nil {
		return calendar.None, notADate(shown)
	}
	return validDate(y, m, d, shown)
}

// validDate is a day that exists, in the years that thermometers do.
func validDate(y, m, d int, shown string) (calendar.Date, error) {
	if y < 1600 || y > 2400 || m < 1 || m > 12 || d < 1 || d > 31 {
		return calendar.None, notADate(shown)
	}
	date := calendar.On(y, time.Month(m), d)
	if date.Month() != time.Month(m) {
		return calendar.None, notADate(shown)
	}
	return date, nil
}

func notADate(text string) error {
	return fmt.Errorf("%q is not a date like 2027-03-20", cutTo(text, 24))
}

// twoDigitYear puts a year written with two digits into its century: the
// latest that is not after today. Where today is not known, 00 to 29 are 2000
// to 2029, as spreadsheets have it.
func (b *builder) twoDigitYear(yy int) int {
	latest := 2029
	if b.options.knowsToday() {
		latest = b.options.Today.Year()
	}
	return latest - ((latest-yy)%100+100)%100
}
