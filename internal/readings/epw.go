package readings

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/weather"
)

// EPW, EnergyPlus weather: eight lines of heading, then a line an hour in local
// standard time. Auxiliary Programs, EnergyPlus documentation, "EPW CSV Format"
// (fields as counted there, from memory of the text and checked on the files
// of the reference folder).
const (
	epwYear, epwMonth, epwDay, epwHour = 0, 1, 2, 3
	epwTemp, epwHumidity               = 6, 8 // °C, missing 99.9; %, missing 999
	epwSun                             = 13   // Wh/m2, missing 9999
	epwWind                            = 21   // m/s at 10 m, missing 999
	epwRain                            = 33   // mm, missing 999; absent in old files
	epwFewest                          = 22   // columns
)

var (
	epwHead = newPattern(`^LOCATION,`)
	// epwTypical are the names of the collections of typical years.
	epwTypical = newPattern(`(?i)tmy|iwec|wyec|cwec|typical|\btry\b|\bdry\b|csws|swera|cityuhk|ishrae|nzemr`)
)

// readEPW takes an EPW of days that have been as a daily record.
func readEPW(l *lines, b *builder) error {
	h, err := epwHours(l, b)
	if err != nil {
		return err
	}
	if h.Typical != nil {
		return fmt.Errorf("this is a typical year, stitched from months of %s: such days never followed one another, and one year gives no odds. "+
			"Give a record of real days, or, to have it all the same as an estimate, haulm weather convert FILE --typical --out FILE.csv", yearList(h.Typical))
	}
	return b.putDays(h)
}

// epwHours reads heading and hours.
func epwHours(l *lines, b *builder) (*hourRun, error) {
	h := newHourBuilder(b)
	collection, err := h.epwLocation(l)
	if err != nil {
		return nil, err
	}
	if err := skipHeading(l); err != nil {
		return nil, err
	}
	rows, err := epwRows(l, b)
	if err != nil {
		return nil, err
	}
	if epwTypical.MatchString(collection) || stitched(rows) {
		h.hourly.Typical = yearsOf(rows)
	}
	for _, row := range rows {
		d := row.date
		if h.hourly.Typical != nil {
			_, m, day := d.Civil()
			var ok bool
			if d, ok = inTypicalYear(m, day); !ok {
				continue
			}
		}
		if err := h.putHour(d, row.hour, row.line, row.values); err != nil {
			return nil, err
		}
	}
	return h.finishHours()
}

// epwLocation reads the first line: LOCATION, city, state, country, source,
// WMO number, latitude, longitude, time zone, height.
func (h *hourBuilder) epwLocation(l *lines) (collection string, err error) {
	raw, err := l.next()
	if err != nil {
		return "", err
	}
	f := splitCSV(string(raw), nil)
	if len(f) < 10 {
		return "", errors.New("the first line, LOCATION, has fewer than ten columns; it was cut off: fetch the file again")
	}
	site, okPlace := placeOf(f[6], f[7])
	elevM, okHeight := heightOf(f[9])
	if !okPlace || !okHeight {
		return "", errors.New("the first line, LOCATION, does not give latitude, longitude and height as numbers in its columns 7, 8 and 10")
	}
	h.hourly.Name, h.hourly.Station, h.hourly.Source = f[1], f[5], "EPW file, "+f[4]
	site.ElevM = elevM
	h.hourly.Site = site
	h.report.HasSite = true
	return f[4], nil
}

// skipHeading reads on to the last line of the heading.
func skipHeading(l *lines) error {
	for range 40 {
		raw, err := l.next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return err
		}
		if strings.HasPrefix(string(raw), "DATA PERIODS,") {
			return nil
		}
	}
	return errors.New("the heading has no line DATA PERIODS; the file was cut off or is no EPW: fetch it again")
}

// epwRow is one hour as written.
type epwRow struct {
	date   calendar.Date
	hour   int
	line   int
	values [hourVariables]float64
}

// maxEPWRows: an EPW holds a year, seldom some decades.
const maxEPWRows = 100 * 8784

func epwRows(l *lines, b *builder) ([]epwRow, error) {
	var rows []epwRow
	var f []string
	columns := epwFewest
	for raw, err := range l.rest() {
		if err != nil {
			return nil, err
		}
		if len(raw) == 0 {
			continue
		}
		f = splitCSV(string(raw), f[:0])
		if l.cut && len(f) < columns {
			return nil, l.half()
		}
		if len(f) < epwFewest {
			b.report.reject(l.n, calendar.None, fmt.Sprintf("%d columns where an hour has 35: left out", len(f)))
			continue
		}
		if len(rows) >= maxEPWRows {
			return nil, errors.New("the file holds more than a century of hours; give a shorter one")
		}
		columns = len(f)
		row, err := epwHourOf(f, l.n)
		if err != nil {
			b.report.reject(l.n, calendar.None, err.Error()+": left out")
			continue
		}
		rows = append(rows, row)
	}
	return rows, nil
}

func epwHourOf(f []string, line int) (epwRow, error) {
	date, err := civil(f[epwYear], f[epwMonth], f[epwDay], strings.Join(f[:3], "-"))
	if err != nil {
		return epwRow{}, err
	}
	hour, err := strconv.Atoi(f[epwHour])
	if err != nil || hour < 1 || hour > weather.DayHours {
		return epwRow{}, fmt.Errorf("%q is no hour from 1 to 24", shorten(f[epwHour]))
	}
	row := epwRow{date: date, hour: hour, line: line}
	row.values = [hourVariables]float64{
		hourTemp: epwNumber(f, epwTemp, 99.9), hourHumidity: epwNumber(f, epwHumidity, 999),
		hourRain: epwNumber(f, epwRain, 999), hourSun: epwNumber(f, epwSun, 9999) * wattHours,
		hourWind: weather.WindAt2M(epwNumber(f, epwWind, 999), weather.SynopticWindM),
	}
	return row, nil
}

// epwNumber is a column's value, NaN from the missing code on, for the codes
// of other services and for what is no number.
func epwNumber(f []string, column int, missing float64) float64 {
	if column >= len(f) {
		return math.NaN()
	}
	x, err := strconv.ParseFloat(f[column], 64)
	if err != nil || x >= missing || x <= -99 {
		return math.NaN()
	}
	return x
}

// stitched says whether the days do not follow one another.
func stitched(rows []epwRow) bool {
	for i := 1; i < len(rows); i++ {
		if !nextDay(rows[i-1].date, rows[i].date) && rows[i].date.Year() != rows[i-1].date.Year() {
			return true
		}
	}
	return false
}

// yearsOf lists the years of a file as they come.
func yearsOf(rows []epwRow) []int {
	var years []int
	for _, r := range rows {
		if y := r.date.Year(); len(years) == 0 || years[len(years)-1] != y {
			years = append(years, y)
		}
	}
	if years == nil {
		years = []int{typicalYear}
	}
	return years
}
