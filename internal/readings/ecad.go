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

// Part is one file of a record that a service keeps as a file an element.
type Part struct {
	Name string // what errors call it
	In   io.Reader
}

// ReadParts joins by date the files of one station that hold one element each:
// ECA&D's (TX_STAID000001.txt, TN_…, RR_…) or the Bureau of Meteorology's
// (IDCJAC0010, 0011, 0009). Quality codes are honoured: suspect values and
// values gathered over several days are left out and counted, a rain gauge
// read after several days gives its days their shares.
func ReadParts(parts []Part, options ...Options) (*weather.Record, *Report, error) {
	b := newBuilder(theOptions(options), "")
	given := map[weather.Variable]string{}
	for _, p := range parts {
		v, err := readPart(p.In, b)
		if err == nil && given[v] != "" {
			err = fmt.Errorf("it holds the %s, and so does %s; give one of them", weather.Limits[v].Name, given[v])
		}
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", p.Name, plainError(err))
		}
		given[v] = p.Name
	}
	for _, v := range []weather.Variable{weather.Tmin, weather.Tmax} {
		if given[v] == "" {
			return nil, nil, fmt.Errorf("none of the %d files holds the %s temperature; give that file of the station too", len(parts), weather.Limits[v].Name)
		}
	}
	rec, report, err := b.finish()
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", parts[0].Name, err)
	}
	if rec.Name == "" {
		rec.Name = parts[0].Name
	}
	return rec, report, nil
}

func readPart(r io.Reader, b *builder) (weather.Variable, error) {
	l, head, err := open(r)
	if err != nil {
		return 0, err
	}
	switch {
	case bomHead.MatchString(head):
		b.report.Format = "BoM single-element CSV"
		return readBoM(l, b)
	case ecadHead.MatchString(head):
		b.report.Format = "ECA&D single-element text"
		return readECAD(l, b)
	}
	return 0, errors.New("this is no single-element file of ECA&D or of the Bureau of Meteorology; a file that holds all elements is given alone")
}

// refusePart says what to do with a file of one element that comes alone.
func refusePart(*lines, *builder) error {
	return errors.New("this file holds one element only; join the station's files, haulm weather convert MAXIMUM MINIMUM RAIN --out FILE.csv")
}

// ECA&D's text: a preface that describes the columns with their units, a header
// (STAID,) SOUID, DATE, TX, Q_TX and a line a day; quality 0 valid, 1 suspect,
// 9 missing.
var (
	ecadHead    = newPattern(`(?s)^\s*EUROPEAN CLIMATE ASSESSMENT.*\bSOUID`)
	ecadColumns = newPattern(`^(STAID\s*,)?\s*SOUID\s*,\s*DATE\s*,\s*([A-Z]{2})\s*,\s*Q_[A-Z]{2}\s*$`)
	ecadUnit    = newPattern(`^\d+-\d+\s+([A-Z]{2})\s*:.*\bin\s+(.*)$`)
	ecadStation = newPattern(`\bstation\s+(.*?)\s*\(STAID:\s*(\d+)\)`)
)

// ecadElements are the elements that are read and the unit that each must
// declare, lower case, blanks taken out.
var ecadElements = map[string]struct {
	of    weather.Variable
	unit  string
	scale float64
}{
	"TX": {weather.Tmax, "0.1°c", 0.1}, "TN": {weather.Tmin, "0.1°c", 0.1}, "RR": {weather.Rain, "0.1mm", 0.1},
	"QQ": {weather.Sunshine, "w/m2", wattsPerM2}, "HU": {weather.Humidity, "1%", 1}, "FG": {weather.Wind, "0.1m/s", 0.1},
}

func readECAD(l *lines, b *builder) (weather.Variable, error) {
	name, unit, err := b.ecadPreface(l)
	if err != nil {
		return 0, err
	}
	e, ok := ecadElements[name]
	if !ok {
		return 0, fmt.Errorf("it holds %s, which Haulm has no use for; give TX, TN, RR, QQ, HU or FG", name)
	}
	if plainUnit(unit) != e.unit {
		return 0, fmt.Errorf("its preface says that %s is in %q where ECA&D has %q; mend the preface or give another copy", name, unit, e.unit)
	}
	scale := e.scale
	if e.of == weather.Wind {
		scale = weather.WindAt2M(scale, weather.SynopticWindM)
	}
	return e.of, b.ecadDays(l, e.of, scale)
}

// ecadPreface reads to the header and gives the element and its unit.
func (b *builder) ecadPreface(l *lines) (name, unit string, err error) {
	units := map[string]string{}
	for raw, err := range l.rest() {
		if err != nil {
			return "", "", err
		}
		line := strings.TrimSpace(string(raw))
		if m := ecadColumns.FindStringSubmatch(line); m != nil {
			return m[2], units[m[2]], nil
		}
		if m := ecadUnit.FindStringSubmatch(line); m != nil {
			units[m[1]] = m[2]
		}
		if m := ecadStation.FindStringSubmatch(line); m != nil {
			if err := b.station("ECA&D "+m[2], l.n); err != nil {
				return "", "", err
			}
			b.rec.Name = m[1]
			b.rec.Source = ecadSource
		}
	}
	return "", "", errNoDay
}

// plainUnit brings the ways of writing a unit to one.
func plainUnit(unit string) string {
	unit = strings.NewReplacer("°", "°", "&#176;", "°", "&deg;", "°", "\xb0", "°", " ", "", "²", "2").Replace(unit)
	return strings.ToLower(unit)
}

const (
	ecadMissing = -9999
	ecadValid   = "0"
)

func (b *builder) ecadDays(l *lines, v weather.Variable, scale float64) error {
	var f []string
	for raw, err := range l.rest() {
		if err != nil {
			return err
		}
		if len(raw) == 0 {
			continue
		}
		f = splitCSV(string(raw), f[:0])
		if len(f) < 4 {
			if err := l.short(b, "fewer than four columns"); err != nil {
				return err
			}
			continue
		}
		n := len(f) // date, value and quality are the last three
		x, err1 := strconv.Atoi(f[n-2])
		d, err2 := isoDate(n - 3)(f)
		switch {
		case err2 != nil:
			b.report.reject(l.n, calendar.None, err2.Error()+": left out")
		case err1 != nil:
			b.report.reject(l.n, d, fmt.Sprintf("%s: %q is not a whole number: left out", weather.Limits[v].Name, shorten(f[n-2])))
		case x == ecadMissing:
		case f[n-1] != ecadValid:
			b.report.FlagsFailed++
		default:
			if err := b.putOne(d, v, tidy(float64(x)*scale, v), l.n); err != nil {
				return err
			}
		}
	}
	return nil
}

// tidy takes the binary dust off what was written in tenths.
func tidy(x float64, v weather.Variable) float64 {
	if v <= weather.Rain {
		return weather.Round1(x)
	}
	return x
}

// bomElements are the Bureau's columns, by what their names begin with.
var bomElements = []struct {
	begins string
	of     weather.Variable
}{
	{"Maximum temperature (Degree C)", weather.Tmax}, {"Minimum temperature (Degree C)", weather.Tmin},
	{"Rainfall amount (millimetres)", weather.Rain}, {"Daily global solar exposure (MJ/m*m)", weather.Sunshine},
}

// readBoM reads the Bureau's CSV: product, station, year, month, day, value,
// days that the value was gathered over, quality.
func readBoM(l *lines, b *builder) (weather.Variable, error) {
	raw, err := l.next()
	if err != nil {
		return 0, err
	}
	header := splitCSV(string(raw), nil)
	v := weather.Variable(-1)
	for _, e := range bomElements {
		if len(header) > 5 && strings.HasPrefix(header[5], e.begins) {
			v = e.of
		}
	}
	if v < 0 {
		return 0, errors.New("its sixth column is none of maximum temperature (Degree C), minimum temperature (Degree C), rainfall amount (millimetres) and daily global solar exposure (MJ/m*m)")
	}
	b.rec.Source = "Australian Bureau of Meteorology"
	t := newTable()
	t.fields = min(len(header), 6)
	t.date = partsDate(2, 3, 4)
	var f []string
	for raw, err := range l.rest() {
		if err != nil {
			return 0, err
		}
		if len(raw) == 0 {
			continue
		}
		f = splitCSV(string(raw), f[:0])
		if len(f) < t.fields {
			err = l.short(b, "fewer columns than the header")
		} else {
			err = b.bomDay(f, v, &t, l.n)
		}
		if err != nil {
			return 0, err
		}
	}
	return v, nil
}

// mostGathered is how many days one reading of a gauge may stand for.
const mostGathered = 31

func (b *builder) bomDay(f []string, v weather.Variable, t *table, line int) error {
	if err := b.station("BoM "+f[1], line); err != nil {
		return err
	}
	d, err := t.date(f)
	if err != nil {
		b.report.reject(line, calendar.None, err.Error()+": left out")
		return nil
	}
	x, err := t.number(f[5])
	if err != nil {
		b.report.reject(line, d, fmt.Sprintf("%s: %v: left out", weather.Limits[v].Name, err))
		return nil
	}
	days := 1
	if v != weather.Sunshine && len(f) > 6 {
		if n, err := strconv.Atoi(f[6]); err == nil {
			days = n
		}
	}
	switch {
	case math.IsNaN(x):
		return nil
	case days <= 1:
		return b.putOne(d, v, x, line)
	case v == weather.Rain && days <= mostGathered:
		for i := range days {
			if err := b.putOne(d.Add(-i), v, x/float64(days), line); err != nil {
				return err
			}
		}
		return nil
	}
	b.report.reject(line, d, fmt.Sprintf("%s gathered over %d days: left out", weather.Limits[v].Name, days))
	return nil
}
