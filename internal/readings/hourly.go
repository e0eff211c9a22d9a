package readings

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/weather"
)

// HourlyOptions are what a reader of hours may be told.
type HourlyOptions struct {
	Options
	Station string // which of several stations of a file; any case
}

// ReadHourly reads hourly weather: EPW, a typical year too; the Irish
// service's hourly CSV; or a CSV with the columns date (2017-01-01T00:00 or
// with a blank), temp_c or temp_f, and, where there are, rh_pct, rain_mm,
// wind_ms or wind_kt (at 10 m) and station. An hour is named by its end. Values
// that cannot be are left out and listed in the Report.
func ReadHourly(r io.Reader, name string, o HourlyOptions) (*weather.Hourly, *Report, error) {
	h, report, err := readHourly(r, o)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", name, plainError(err))
	}
	if h.Name == "" {
		h.Name = name
	}
	return h, report, nil
}

func readHourly(r io.Reader, o HourlyOptions) (*weather.Hourly, *Report, error) {
	l, head, err := open(r)
	if err != nil {
		return nil, nil, err
	}
	for _, f := range hourlyFormats {
		if !f.sniff.MatchString(head) {
			continue
		}
		b := newBuilder(o.Options, f.name)
		h, err := f.read(l, b, o.Station)
		if err != nil {
			return nil, nil, err
		}
		b.report.Days = h.Days()
		b.report.sort()
		return &h.Hourly, b.report, nil
	}
	return nil, nil, errors.New("this is no hourly weather that can be read; give an EPW file, the hourly CSV of Met Éireann, or a CSV that starts date,temp_c,rh_pct,rain_mm")
}

var hourlyFormats = []struct {
	name  string
	sniff pattern
	read  func(l *lines, b *builder, station string) (*hourRun, error)
}{
	{"EPW hourly", epwHead, func(l *lines, b *builder, _ string) (*hourRun, error) { return epwHours(l, b) }},
	{"Met Éireann hourly CSV", irishHourHead, irishHours},
	{"hourly CSV", hourCSVHead, csvHours},
}

var (
	irishHourHead = newPattern(`(?im)^date,(ind,)?rain,(ind,)?temp,`)
	hourCSVHead   = newPattern(`(?i)^("?station"?,)?"?date"?,([^\r\n]*,)?"?temp_[cf]"?(,|\r?\n)`)
)

// readHours is how both CSV forms become a daily record.
func readHours(read func(*lines, *builder, string) (*hourRun, error)) func(*lines, *builder) error {
	return func(l *lines, b *builder) error {
		h, err := read(l, b, "")
		if err != nil {
			return err
		}
		return b.putDays(h)
	}
}

// hourColumn says where an hour's variable stands and its unit.
type hourColumn struct {
	of           hourVariable
	scale, shift float64
}

var hourColumns = map[string]hourColumn{
	"temp_c": {hourTemp, 1, 0}, "temp_f": {hourTemp, 5.0 / 9, -32},
	"rh_pct": {hourHumidity, 1, 0}, "rh_pc": {hourHumidity, 1, 0}, "humidity_pc": {hourHumidity, 1, 0},
	"rain_mm": {hourRain, 1, 0}, "rain_in": {hourRain, 25.4, 0},
	"wind_ms": {hourWind, weather.WindAt2M(1, weather.SynopticWindM), 0}, "wind_kt": {hourWind, weather.WindAt2M(knots, weather.SynopticWindM), 0},
	"sun_w_m2": {hourSun, wattHours, 0},
}

// irishColumns are those of Met Éireann's own file, by its key: mm, °C, %,
// knots; hours in UTC.
var irishColumns = map[string]hourColumn{
	"rain": hourColumns["rain_mm"], "temp": hourColumns["temp_c"], "rhum": hourColumns["rh_pct"], "wdsp": hourColumns["wind_kt"],
}

func irishHours(l *lines, b *builder, _ string) (*hourRun, error) {
	names, err := findHeader(l, func(line string) bool {
		b.metEireannHeading(line)
		return irishHourHead.MatchString(line)
	})
	if err != nil {
		return nil, err
	}
	h := newHourBuilder(b)
	h.hourly.Source, h.hourly.Name, h.hourly.Site = metEireannMaker, b.rec.Name, b.rec.Site
	return h.rows(l, names, irishColumns, "")
}

func csvHours(l *lines, b *builder, station string) (*hourRun, error) {
	raw, err := l.next()
	if err != nil {
		return nil, err
	}
	names, err := headerNames(string(raw))
	if err != nil {
		return nil, err
	}
	return newHourBuilder(b).rows(l, names, hourColumns, station)
}

// hourTable is where things stand in a file of hours.
type hourTable struct {
	of            []hourColumn // by column; those of no variable have no scale
	date, station int          // -1 where there is none
}

// tableOf finds the columns by the names of the header.
func (h *hourBuilder) tableOf(names []string, known map[string]hourColumn) (hourTable, error) {
	t := hourTable{of: make([]hourColumn, len(names)), date: -1, station: -1}
	for i, name := range names {
		name = strings.ToLower(name)
		c, ok := known[name]
		t.of[i] = c
		switch {
		case name == "date":
			t.date = i
		case name == "station":
			t.station = i
		case !ok && name != "ind":
			h.report.Ignored = append(h.report.Ignored, name)
		}
	}
	if t.date < 0 {
		return t, errors.New("the header has no column date; start the file with date,temp_c,rh_pct,rain_mm")
	}
	return t, nil
}

// rows reads a line an hour.
func (h *hourBuilder) rows(l *lines, names []string, known map[string]hourColumn, station string) (*hourRun, error) {
	t, err := h.tableOf(names, known)
	if err != nil {
		return nil, err
	}
	var f []string
	for raw, err := range l.rest() {
		if err != nil {
			return nil, err
		}
		if len(raw) == 0 {
			continue
		}
		f = splitCSV(string(raw), f[:0])
		if len(f) < len(names) {
			if err := l.short(h.builder, fewerThanHeader(len(f))); err != nil {
				return nil, err
			}
			continue
		}
		other, err := h.otherStation(f, t.station, station)
		if err == nil && !other {
			err = h.row(f, t, l.n)
		}
		if err != nil {
			return nil, err
		}
	}
	return h.finishStation(station)
}

// otherStation says whether a row is of another station than is wanted.
func (h *hourBuilder) otherStation(f []string, at int, want string) (bool, error) {
	if at < 0 {
		return false, nil
	}
	if want != "" && !strings.EqualFold(f[at], want) {
		return true, nil
	}
	if h.hourly.Station == "" {
		h.hourly.Station, h.hourly.Name = f[at], f[at]
	}
	if want == "" && f[at] != h.hourly.Station {
		return false, fmt.Errorf("the file holds more than one station (%s, then %s); take one out of it with haulm weather convert FILE --station %q --out FILE.csv", h.hourly.Station, f[at], h.hourly.Station)
	}
	return false, nil
}

func (h *hourBuilder) finishStation(want string) (*hourRun, error) {
	if want != "" && h.hourly.Station == "" {
		return nil, fmt.Errorf("the file holds no station %q", want)
	}
	return h.finishHours()
}

func (h *hourBuilder) row(f []string, t hourTable, line int) error {
	d, hour, err := hourEnding(f[t.date])
	if err != nil {
		h.report.reject(line, calendar.None, err.Error()+": left out")
		return nil
	}
	var values [hourVariables]float64
	for v := range values {
		values[v] = math.NaN()
	}
	for i, c := range t.of {
		if c.scale == 0 || f[i] == "" || f[i] == "NA" {
			continue
		}
		x, err := strconv.ParseFloat(f[i], 64)
		if err != nil || math.IsInf(x, 0) {
			h.report.reject(line, d, fmt.Sprintf("%s: %q is not a number: left out", hourLimits[c.of].Name, shorten(f[i])))
			continue
		}
		if !missingCode(x) {
			values[c.of] = (x + c.shift) * c.scale
		}
	}
	return h.putHour(d, hour, line, values)
}

// hourLayouts are the ways in which an hour may be written.
var hourLayouts = []string{"2006-01-02T15:04Z07:00", "2006-01-02T15:04", "2006-01-02 15:04", "2006-01-02T15:04:05Z07:00", "2006-01-02 15:04:05", "2-Jan-2006 15:04"}

// hourEnding is the day and hour, 1 to 24, that ends at the time written:
// midnight ends the day before.
func hourEnding(text string) (calendar.Date, int, error) {
	for _, layout := range hourLayouts {
		t, err := time.Parse(layout, text)
		if err != nil {
			continue
		}
		if y := t.Year(); y < 1600 || y > 2400 || t.Minute() != 0 {
			break
		}
		d := calendar.FromTime(t)
		if t.Hour() == 0 {
			return d.Add(-1), weather.DayHours, nil
		}
		return d, t.Hour(), nil
	}
	return calendar.None, 0, fmt.Errorf("%q is no full hour like 2017-01-01T15:00", shorten(text))
}
