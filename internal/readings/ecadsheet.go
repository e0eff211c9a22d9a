package readings

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"haulm/internal/weather"
)

// Two sheets made of ECA&D series go round. They do not name their units but
// are known by their whole header; what their makers say of the units stands
// here and in the format's name, so that a reader can object.
var (
	// londonHead: London Heathrow, °C, mm, global radiation in W/m2.
	londonHead = newPattern(`^date,cloud_cover,sunshine,global_radiation,max_temp,mean_temp,min_temp,precipitation,pressure,snow_depth\r?\n`)
	// sheetHead: 18 stations side by side: °C, precipitation in cm, humidity
	// as a fraction, radiation in 100 W/m2, wind in m/s.
	sheetHead = newPattern(`^DATE,MONTH,[A-Z_]+_(cloud_cover|wind_speed|humidity|pressure|global_radiation|precipitation|temp_mean)[,\r\n]`)
)

const ecadSource = "ECA&D, free with its source acknowledged (Klein Tank et al. 2002)"

func readLondon(l *lines, b *builder) error {
	b.rec.Source, b.rec.Name = ecadSource, "London Heathrow"
	raw, err := l.next()
	if err != nil {
		return err
	}
	t := newTable()
	t.missing, t.date = missingCode, isoDate(0)
	t.place(splitCSV(string(raw), nil), map[string]column{
		"min_temp": {of: weather.Tmin, scale: 1}, "max_temp": {of: weather.Tmax, scale: 1}, "precipitation": {of: weather.Rain, scale: 1},
		"global_radiation": {of: weather.Sunshine, scale: wattsPerM2},
	})
	return t.read(l, b)
}

func refuseSheet(l *lines, _ *builder) error {
	names, err := sheetNames(l)
	if err != nil {
		return err
	}
	stations := sheetStations(names)
	if len(stations) == 0 {
		return errors.New("the sheet names no station")
	}
	return fmt.Errorf("the sheet holds %d stations (%s); take one out of it with haulm weather convert FILE --station %q --out FILE.csv", len(stations), shorten(strings.Join(stations, ", ")), stations[0])
}

func sheetNames(l *lines) ([]string, error) {
	raw, err := l.next()
	if err != nil {
		return nil, err
	}
	return splitCSV(string(raw), nil), nil
}

// sheetStations lists the stations of the columns.
func sheetStations(names []string) []string {
	var stations []string
	for _, name := range names {
		if s, ok := strings.CutSuffix(name, "_temp_max"); ok {
			stations = append(stations, s)
		}
	}
	return stations
}

// ErrNoSheet is what ReadSheet's error wraps for a file of another kind.
var ErrNoSheet = errors.New("this is not the sheet of stations side by side that can be read with a station's name")

// ReadSheet reads one station of the sheet of 18 ECA&D stations side by side.
// Its gaps were filled by its maker with the mean of the column: they cannot
// be told from measured days.
func ReadSheet(r io.Reader, name, station string, options ...Options) (*weather.Record, *Report, error) {
	rec, report, err := readSheet(r, station, theOptions(options))
	return named(name, rec, report, err)
}

func readSheet(r io.Reader, station string, o Options) (*weather.Record, *Report, error) {
	l, head, err := open(r)
	if err != nil {
		return nil, nil, err
	}
	if !sheetHead.MatchString(head) {
		return nil, nil, ErrNoSheet
	}
	names, err := sheetNames(l)
	if err != nil {
		return nil, nil, err
	}
	s := strings.ToUpper(strings.TrimSpace(station))
	b := newBuilder(o, "ECA&D sheet (°C, cm, W/m²/100)")
	b.rec.Name, b.rec.Source = s, ecadSource
	t := newTable()
	t.date = isoDate(0)
	t.place(names, map[string]column{
		s + "_temp_min": {of: weather.Tmin, scale: 1}, s + "_temp_max": {of: weather.Tmax, scale: 1}, s + "_precipitation": {of: weather.Rain, scale: 10},
		s + "_global_radiation": {of: weather.Sunshine, scale: 100 * wattsPerM2}, s + "_humidity": {of: weather.Humidity, scale: 100},
		s + "_wind_speed": {of: weather.Wind, scale: weather.WindAt2M(1, weather.SynopticWindM)},
	})
	if len(t.columns) == 0 {
		return nil, nil, fmt.Errorf("the sheet has no station %q; it has %s", station, strings.Join(sheetStations(names), ", "))
	}
	t.adjust = func(day *[weather.Variables]float64) { day[weather.Rain] = tidy(day[weather.Rain], weather.Rain) }
	if err := t.read(l, b); err != nil {
		return nil, nil, err
	}
	return b.finish()
}
