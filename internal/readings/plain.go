package readings

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"haulm/internal/weather"
)

// The plain CSV. Lines that start with # stand at the top and may say
//
//	# name: Upper garden
//	# station: 532
//	# lat: 53.43
//	# lon: -6.24
//	# elev_m: 71
//	# source: own thermometer
//	# estimated: yes
//
// then the header, then a line a day. Columns may stand in any order and any
// case; each name carries its unit. A column that is not known is left alone.
// An empty field is a day without that value.

// plainColumns are the names that a plain CSV's columns may have.
var plainColumns = map[string]column{
	"tmin_c": {of: weather.Tmin, scale: 1}, "tmax_c": {of: weather.Tmax, scale: 1},
	"tmin_f": {of: weather.Tmin, scale: 5.0 / 9, shift: -32}, "tmax_f": {of: weather.Tmax, scale: 5.0 / 9, shift: -32},

	"rain_mm": {of: weather.Rain, scale: 1}, "prcp_mm": {of: weather.Rain, scale: 1}, "precip_mm": {of: weather.Rain, scale: 1},
	"rain_in": {of: weather.Rain, scale: 25.4}, "prcp_in": {of: weather.Rain, scale: 25.4}, "precip_in": {of: weather.Rain, scale: 25.4},

	"sun_mj": {of: weather.Sunshine, scale: 1}, "sun_mj_m2": {of: weather.Sunshine, scale: 1},
	"srad_mj_m2": {of: weather.Sunshine, scale: 1}, "rad_mj_m2": {of: weather.Sunshine, scale: 1},
	"sun_j_cm2": {of: weather.Sunshine, scale: joulesPerCM2}, "srad_j_cm2": {of: weather.Sunshine, scale: joulesPerCM2},
	"sun_w_m2": {of: weather.Sunshine, scale: wattsPerM2}, "srad_w_m2": {of: weather.Sunshine, scale: wattsPerM2},

	"humidity_pc": {of: weather.Humidity, scale: 1}, "humidity_pct": {of: weather.Humidity, scale: 1},
	"rh_pc": {of: weather.Humidity, scale: 1}, "rh_pct": {of: weather.Humidity, scale: 1},

	"wind_ms": {of: weather.Wind, scale: 1}, "wind2m_ms": {of: weather.Wind, scale: 1}, "wind2m_mean_ms": {of: weather.Wind, scale: 1},
	"wind10m_ms": {of: weather.Wind, scale: weather.WindAt2M(1, weather.SynopticWindM)}, "wind10m_kmh": {of: weather.Wind, scale: weather.WindAt2M(kilometresAnHour, weather.SynopticWindM)},
}

// Units that files are written in, in ours: MJ/m2, m/s.
const (
	joulesPerCM2     = 0.01          // J/cm2
	wattsPerM2       = 0.0864        // a day's mean, W/m2
	wattHours        = 0.0036        // Wh/m2
	knots            = 1852.0 / 3600 // a knot is 1852 m an hour
	kilometresAnHour = 1 / 3.6
	milesAnHour      = 0.44704 // a mile is 1609.344 m
)

// unitless are names people give to columns that need a unit.
var unitless = map[string]bool{
	"tmin": true, "tmax": true, "tn": true, "tx": true, "min": true, "max": true, "t_min": true, "t_max": true,
	"mintemp": true, "maxtemp": true, "min_temp": true, "max_temp": true, "temp_min": true, "temp_max": true,
	"minimum": true, "maximum": true, "low": true, "high": true, "rain": true, "prcp": true, "precip": true,
	"precipitation": true, "rainfall": true,
}

func readPlain(l *lines, b *builder) error {
	header, err := plainPreface(l, b)
	if err != nil {
		return err
	}
	t, err := plainTable(header, b)
	if err != nil {
		return err
	}
	return t.read(l, b)
}

// plainPreface reads the comments at the top and gives the header's names.
func plainPreface(l *lines, b *builder) ([]string, error) {
	var site [2]bool // latitude and longitude were given
	for raw, err := range l.rest() {
		if err != nil {
			return nil, err
		}
		line := strings.TrimSpace(string(raw))
		if line == "" {
			continue
		}
		if !strings.HasPrefix(line, "#") {
			b.report.HasSite = site[0] && site[1]
			return headerNames(line)
		}
		if err := b.remark(strings.TrimPrefix(line, "#"), l.n, &site); err != nil {
			return nil, err
		}
	}
	return nil, errors.New("the file holds only comments; " + rightHeader)
}

func headerNames(line string) ([]string, error) {
	if !strings.Contains(line, ",") && strings.ContainsAny(line, ";\t") {
		return nil, errors.New("the columns are not separated by commas; save the file as comma-separated values with decimal points")
	}
	names := splitCSV(line, nil)
	for i, n := range names {
		names[i] = strings.ToLower(n)
	}
	return names, nil
}

// remark takes in one "key: value" comment; others are left alone.
func (b *builder) remark(text string, line int, site *[2]bool) error {
	key, value, ok := strings.Cut(text, ":")
	if !ok {
		return nil
	}
	value = strings.TrimSpace(value)
	switch strings.ToLower(strings.TrimSpace(key)) {
	case "name":
		b.rec.Name = value
	case "station":
		b.rec.Station = value
	case "source":
		b.rec.Source = value
	case "estimated":
		b.rec.Estimated = strings.EqualFold(value, "yes")
	case "lat":
		site[0] = true
		return remarkNumber(&b.rec.Site.LatDeg, value, line, "lat", 90)
	case "lon":
		site[1] = true
		return remarkNumber(&b.rec.Site.LonDeg, value, line, "lon", 180)
	case "elev_m":
		return remarkNumber(&b.rec.Site.ElevM, value, line, "elev_m", weather.HighestM)
	}
	return nil
}

func remarkNumber(into *float64, text string, line int, key string, top float64) error {
	x, err := strconv.ParseFloat(text, 64)
	if err != nil || !(math.Abs(x) <= top) {
		return fmt.Errorf("line %d: %s must be a number from -%g to %g, not %q", line, key, top, top, text)
	}
	*into = x
	return nil
}

func plainTable(names []string, b *builder) (*table, error) {
	t := newTable()
	at := map[string]int{}
	taken := map[weather.Variable]string{}
	for i, name := range names {
		at[name] = i
		c, ok := plainColumns[name]
		switch {
		case unitless[name]:
			return nil, fmt.Errorf("column %q does not say its unit; %s", name, rightHeader)
		case !ok:
			continue
		case taken[c.of] == "rain_mm" && name == "prcp_mm" || taken[c.of] == "prcp_mm" && name == "rain_mm":
			// Where both stand, rain is the liquid part and prcp the whole.
			t.columns = without(t.columns, weather.Rain)
			c.index = at["prcp_mm"]
			b.report.Ignored = append(b.report.Ignored, "rain_mm")
		case taken[c.of] != "":
			return nil, fmt.Errorf("columns %q and %q both give the %s; keep one", taken[c.of], name, weather.Limits[c.of].Name)
		default:
			c.index = i
		}
		taken[c.of] = name
		t.columns = append(t.columns, c)
		b.fahrenheit = b.fahrenheit || strings.HasSuffix(name, "_f")
	}
	if taken[weather.Tmin] == "" || taken[weather.Tmax] == "" {
		return nil, fmt.Errorf("the header %q has no minimum or no maximum temperature with a unit; %s", shorten(strings.Join(names, ",")), rightHeader)
	}
	t.fields = len(names)
	t.missing = missingCode
	if err := t.placeDate(at); err != nil {
		return nil, err
	}
	t.placeRest(names, at, taken, b)
	return &t, nil
}

func (t *table) placeDate(at map[string]int) error {
	if i, ok := at["date"]; ok {
		t.date = isoDate(i)
		return nil
	}
	y, okY := first(at, "year", "yyyy")
	m, okM := first(at, "month", "mm")
	d, okD := first(at, "day", "dd")
	if !okY || !okM || !okD {
		return errors.New("the header has no column date (nor year, month and day); " + rightHeader)
	}
	t.date = partsDate(y, m, d)
	return nil
}

func first(at map[string]int, names ...string) (int, bool) {
	for _, n := range names {
		if i, ok := at[n]; ok {
			return i, true
		}
	}
	return 0, false
}

func (t *table) placeRest(names []string, at map[string]int, taken map[weather.Variable]string, b *builder) {
	if i, ok := at["station"]; ok {
		t.station = i
	}
	hi, okHi := first(at, "rhmax_pc", "rhmax_pct")
	lo, okLo := first(at, "rhmin_pc", "rhmin_pct")
	if okHi && okLo && taken[weather.Humidity] == "" {
		t.humidity = [2]int{hi, lo} // FAO-56: the day's mean is that of the two
	}
	for i, name := range names {
		used := i == t.station || t.humidity == [2]int{hi, lo} && (i == hi || i == lo)
		switch name {
		case "date", "year", "yyyy", "month", "mm", "day", "dd":
			used = true
		}
		if _, ok := plainColumns[name]; !ok && !used && name != "" {
			b.report.Ignored = append(b.report.Ignored, name)
		}
	}
}

func without(columns []column, v weather.Variable) []column {
	var kept []column
	for _, c := range columns {
		if c.of != v {
			kept = append(kept, c)
		}
	}
	return kept
}

// missingCode says whether x is one of the codes by which services mean "no
// value": -99, -99.9 and anything from -999 down.
func missingCode(x float64) bool { return x <= -999 || x == -99.9 || x == -99 }

// shorten keeps what is quoted in an error to a line.
func shorten(s string) string { return cutTo(s, 60) }

// cutTo keeps a text to so many letters.
func cutTo(s string, letters int) string {
	for at := range s {
		if letters == 0 {
			return s[:at] + "…"
		}
		letters--
	}
	return s
}
