package readings

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/weather"
)

// readDSSAT reads the .WTH of crop modellers. Lines that start with @ name
// fixed columns, each ending where its name ends: the station's place and the
// height of its anemometer (WNDHT, m), then the days: SRAD MJ/m2, TMAX and
// TMIN °C, RAIN mm, WIND km/day, RHUM %. A blank or -99 is missing. Hunt et
// al., DSSAT v4 vol. 2, weather data file. Dates are YYDDD or YYYYDDD.
func readDSSAT(l *lines, b *builder) error {
	b.rec.Source = "DSSAT weather file"
	var header []dssatColumn
	windM := math.NaN()
	for raw, err := range l.rest() {
		if err != nil {
			return err
		}
		line := string(raw)
		switch {
		case strings.TrimSpace(line) == "" || line[0] == '!':
		case line[0] == '*' || line[0] == '$':
			_, title, _ := strings.Cut(line, ":")
			b.rec.Name = strings.TrimSpace(title)
		case line[0] == '@':
			header = dssatColumns(line)
		case len(header) == 0:
			b.report.reject(l.n, calendar.None, "a line before any @ header: left out")
		case header[0].name == "INSI":
			windM = b.dssatStation(header, line)
		default:
			if l.cut && len(line) < header[min(4, len(header)-1)].from+1 {
				return l.half()
			}
			if err := b.dssatDay(header, line, l.n, windM); err != nil {
				return err
			}
		}
	}
	return nil
}

type dssatColumn struct {
	name     string
	from, to int
}

func dssatColumns(header string) []dssatColumn {
	var columns []dssatColumn
	end := 0
	for end < len(header) {
		start := end
		for start < len(header) && (header[start] == ' ' || header[start] == '@') {
			start++
		}
		stop := start
		for stop < len(header) && header[stop] != ' ' {
			stop++
		}
		if stop > start {
			columns = append(columns, dssatColumn{header[start:stop], end, stop})
		}
		end = max(stop, end+1)
	}
	return columns
}

func (c dssatColumn) cut(line string) string {
	if c.from >= len(line) {
		return ""
	}
	return strings.TrimSpace(line[c.from:min(c.to, len(line))])
}

func (c dssatColumn) number(line string) float64 {
	text := c.cut(line)
	if text == "" {
		return math.NaN()
	}
	x, err := strconv.ParseFloat(text, 64)
	if err != nil || missingCode(x) {
		return math.NaN()
	}
	return x
}

// dssatStation takes in the place and gives the height of the anemometer.
func (b *builder) dssatStation(header []dssatColumn, line string) (windM float64) {
	site := weather.Site{LatDeg: math.NaN(), LonDeg: math.NaN(), ElevM: math.NaN()}
	windM = math.NaN()
	for _, c := range header {
		switch c.name {
		case "INSI":
			b.rec.Station = c.cut(line)
		case "LAT":
			site.LatDeg = c.number(line)
		case "LONG":
			site.LonDeg = c.number(line)
		case "ELEV":
			site.ElevM = c.number(line)
		case "WNDHT":
			windM = c.number(line)
		}
	}
	if site.OnEarth() {
		b.rec.Site.LatDeg, b.rec.Site.LonDeg = site.LatDeg, site.LonDeg
		b.report.HasSite = true
	}
	if isHeight(site.ElevM) {
		b.rec.Site.ElevM = site.ElevM
	}
	return windM
}

func (b *builder) dssatDay(header []dssatColumn, line string, n int, windM float64) error {
	d, err := b.dssatDate(header[0].cut(line))
	if err != nil {
		b.report.reject(n, calendar.None, err.Error()+": left out")
		return nil
	}
	values := noValues()
	for _, c := range header[1:] {
		x := c.number(line)
		switch c.name {
		case "SRAD":
			values[weather.Sunshine] = x
		case "TMAX":
			values[weather.Tmax] = x
		case "TMIN":
			values[weather.Tmin] = x
		case "RAIN":
			values[weather.Rain] = x
		case "RHUM":
			values[weather.Humidity] = x
		case "WIND":
			if windM >= 0.5 && windM <= 100 {
				values[weather.Wind] = weather.WindAt2M(x/86.4, windM) // km a day -> m/s
			}
		}
	}
	return b.putRow(d, n, values)
}

func (b *builder) dssatDate(text string) (calendar.Date, error) {
	n, ok := digits([]byte(text))
	year := n / 1000
	if len(text) == 5 {
		year = b.twoDigitYear(year)
	}
	if !ok || len(text) != 5 && len(text) != 7 || year < 1600 || year > 2400 {
		return calendar.None, fmt.Errorf("%q is not a year and day such as 1996032", shorten(text))
	}
	d := calendar.On(year, 1, n%1000)
	if n%1000 < 1 || d.Year() != year {
		return calendar.None, fmt.Errorf("%q: the year has no such day", text)
	}
	return d, nil
}
