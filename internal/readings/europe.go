package readings

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/weather"
)

// readKNMI reads the daily text of the Dutch service: comments, a header that
// starts "# STN,YYYYMMDD" (newer files without the #), values in tenths of °C,
// mm and m/s, radiation Q in J/cm2, humidity UG in percent; rain -1 is less
// than 0.05 mm. The file's own key says all of this.
func readKNMI(l *lines, b *builder) error {
	b.rec.Source = "KNMI"
	names, err := findHeader(l, func(line string) bool {
		return strings.HasPrefix(strings.TrimLeft(line, "# "), "STN,YYYYMMDD")
	})
	if err != nil {
		return err
	}
	t := newTable()
	t.missing = func(x float64) bool { return x <= -9999 }
	units := map[string]column{
		"TN": {of: weather.Tmin, scale: 0.1}, "TX": {of: weather.Tmax, scale: 0.1}, "RH": {of: weather.Rain, scale: 0.1},
		"Q": {of: weather.Sunshine, scale: joulesPerCM2}, "UG": {of: weather.Humidity, scale: 1},
		"FG": {of: weather.Wind, scale: weather.WindAt2M(0.1, weather.SynopticWindM)},
	}
	t.place(names, units)
	names[0] = strings.Trim(names[0], "# ")
	t.station, t.date = 0, isoDate(1)
	t.adjust = func(day *[weather.Variables]float64) {
		if day[weather.Rain] < 0 && day[weather.Rain] > -0.11 {
			day[weather.Rain] = 0
		}
		for _, v := range []weather.Variable{weather.Tmin, weather.Tmax, weather.Rain} {
			if !math.IsNaN(day[v]) {
				day[v] = weather.Round1(day[v])
			}
		}
	}
	return t.read(l, b)
}

// findHeader skips to the header and gives its names.
func findHeader(l *lines, is func(line string) bool) ([]string, error) {
	for raw, err := range l.rest() {
		if err != nil {
			return nil, err
		}
		if line := strings.TrimSpace(string(raw)); is(line) {
			return splitCSV(line, nil), nil
		}
	}
	return nil, errNoDay
}

var errNoDay = errors.New("the file ends before its first day; it was cut off: fetch it again")

// place finds the columns by name; a row must reach the last of them.
func (t *table) place(names []string, units map[string]column) {
	for i, name := range names {
		if c, ok := units[name]; ok {
			c.index = i
			t.columns = append(t.columns, c)
		}
	}
	t.fields = len(names)
}

var (
	metEireannName   = newPattern(`(?i)^station name:\s*(.*?)\s*$`)
	metEireannHeight = newPattern(`(?i)^station height:\s*(-?[\d.]+)`)
	metEireannPlace  = newPattern(`(?i)^latitude:\s*(-?[\d.]+)\s*,\s*longitude:\s*(-?[\d.]+)`)
	dayMonthYear     = newPattern(`^(\d{1,2})-([A-Za-z]{3})-(\d{4}|\d{2})$`)
)

const metEireannMaker = "Met Éireann, CC BY 4.0"

// readMetEireann reads the Irish service's daily CSV with or without its
// heading: °C, mm, wind in knots, g_rad in J/cm2 (its key), dates such as
// 01-jan-1942 or, in some copies, 01-Jan-42.
func readMetEireann(l *lines, b *builder) error {
	b.rec.Source = metEireannMaker
	names, err := findHeader(l, func(line string) bool {
		b.metEireannHeading(line)
		return metEireannHead.MatchString(line)
	})
	if err != nil {
		return err
	}
	for i := range names {
		names[i] = strings.ToLower(names[i])
	}
	t := newTable()
	t.place(names, map[string]column{
		"mintp": {of: weather.Tmin, scale: 1}, "maxtp": {of: weather.Tmax, scale: 1}, "rain": {of: weather.Rain, scale: 1},
		"g_rad": {of: weather.Sunshine, scale: joulesPerCM2},
		"wdsp":  {of: weather.Wind, scale: weather.WindAt2M(knots, weather.SynopticWindM)},
	})
	t.date = b.dayMonthYear
	return t.read(l, b)
}

func (b *builder) metEireannHeading(line string) {
	if m := metEireannName.FindStringSubmatch(line); m != nil {
		b.rec.Name = m[1]
	}
	if m := metEireannHeight.FindStringSubmatch(line); m != nil {
		b.rec.Site.ElevM, _ = strconv.ParseFloat(m[1], 64)
	}
	if m := metEireannPlace.FindStringSubmatch(line); m != nil {
		if site, ok := placeOf(m[1], m[2]); ok {
			b.rec.Site.LatDeg, b.rec.Site.LonDeg = site.LatDeg, site.LonDeg
			b.report.HasSite = true
		}
	}
}

// dayMonthYear reads 01-jan-1942 and 01-Jan-42 from the first column.
func (b *builder) dayMonthYear(row []string) (calendar.Date, error) {
	m := dayMonthYear.FindStringSubmatch(row[0])
	if m == nil {
		return calendar.None, fmt.Errorf("%q is not a date like 01-jan-1942", shorten(row[0]))
	}
	month := 0
	for i := time.January; i <= time.December; i++ {
		if strings.EqualFold(i.String()[:3], m[2]) {
			month = int(i)
		}
	}
	dayOfMonth, _ := strconv.Atoi(m[1])
	year, _ := strconv.Atoi(m[3])
	if len(m[3]) == 2 {
		year = b.twoDigitYear(year)
	}
	return validDate(year, month, dayOfMonth, row[0])
}
