package readings

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/weather"
)

// readNCEILong reads NCEI's by-station CSV: ID,DATE,ELEMENT,VALUE,MFLAG,QFLAG,
// SFLAG,OBSTIME, a line a value, without a header (newer copies have one), in
// the units and with the flags of the .dly. NOAA NCEI, GHCN-Daily by_station
// readme.
func readNCEILong(l *lines, b *builder) error {
	b.rec.Source = ghcnMaker
	var row []string
	for raw, err := range l.rest() {
		if err != nil {
			return err
		}
		if len(raw) == 0 || strings.HasPrefix(string(raw), "ID,DATE,") {
			continue
		}
		row = splitCSV(string(raw), row[:0])
		if len(row) < 7 {
			err = l.short(b, "fewer than seven columns")
		} else {
			err = b.nceiValue(row, l.n)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

func (b *builder) nceiValue(row []string, line int) error {
	if err := b.station(row[0], line); err != nil {
		return err
	}
	v, ok := GHCNElement(row[2])
	if !ok {
		return nil
	}
	d, err := isoDate(1)(row)
	if err != nil {
		b.report.reject(line, calendar.None, err.Error()+": left out")
		return nil
	}
	x, err := strconv.Atoi(row[3])
	if err != nil {
		b.report.reject(line, d, fmt.Sprintf("%s: %q is not a whole number of tenths: left out", weather.Limits[v].Name, row[3]))
		return nil
	}
	if x == dlyMissing {
		return nil
	}
	if row[5] != "" {
		b.report.FlagsFailed++
		return nil
	}
	return b.putOne(d, v, weather.Round1(float64(x)*ghcnTenths), line)
}

// readNCEIWide reads the files of NCEI's daily-summaries access folder: a row
// a day, each element followed by its attributes MFLAG,QFLAG,SFLAG. Those
// files are in tenths of °C and mm like the .dly; the same columns ordered in
// °C or °F do not say so anywhere, but have decimal points, which tenths
// cannot have, and are refused.
func readNCEIWide(l *lines, b *builder) error {
	b.rec.Source = ghcnMaker
	raw, err := l.next()
	if err != nil {
		return err
	}
	w, err := newWide(splitCSV(string(raw), nil))
	if err != nil {
		return err
	}
	w.b = b
	t := newTable()
	t.fields, t.station, t.date, t.missing = w.fields, 0, isoDate(1), missingCode
	t.check = w.row
	t.columns = w.columns
	t.adjust = w.failed
	return t.read(l, b)
}

// wide is what the wide reader has to remember from header to row.
type wide struct {
	b          *builder
	fields     int
	columns    []column
	attributes [weather.Variables]int // -1 where there are none
	bad        [weather.Variables]bool
}

func newWide(names []string) (*wide, error) {
	w := &wide{fields: 6}
	for v := range w.attributes {
		w.attributes[v] = -1
	}
	for i, name := range names {
		element, isAttributes := strings.CutSuffix(name, "_ATTRIBUTES")
		v, ok := GHCNElement(element)
		switch {
		case !ok:
		case isAttributes:
			w.attributes[v] = i
		default:
			w.columns = append(w.columns, column{index: i, of: v, scale: ghcnTenths})
		}
		if ok {
			w.fields = max(w.fields, i+1)
		}
	}
	for _, c := range w.columns {
		if w.attributes[c.of] < 0 {
			return nil, errors.New("the columns come without their _ATTRIBUTES, so neither unit nor quality flags are known; fetch the station's file from NCEI's daily-summaries access folder, or " + rightHeader)
		}
	}
	if len(w.columns) == 0 {
		return nil, errors.New("the header has none of TMIN, TMAX and PRCP; fetch the station's file from NCEI's daily-summaries access folder")
	}
	return w, nil
}

// row notes the site and the quality flags before the row's values are read.
func (w *wide) row(row []string, line int) error {
	if !w.b.report.HasSite {
		w.site(row)
	}
	for _, c := range w.columns {
		text := row[c.index]
		if strings.Contains(text, ".") {
			return fmt.Errorf("line %d: %q has a decimal point, but this kind of file is in whole tenths of °C and mm; name the columns by their unit: %s", line, text, rightHeader)
		}
		_, rest, _ := strings.Cut(row[w.attributes[c.of]], ",")
		quality, _, _ := strings.Cut(rest, ",")
		w.bad[c.of] = strings.TrimSpace(quality) != "" && text != ""
	}
	return nil
}

func (w *wide) site(row []string) {
	site, ok := placeOf(row[2], row[3])
	if !ok {
		return
	}
	site.ElevM, _ = heightOf(row[4])
	w.b.rec.Site = site
	w.b.rec.Name = row[5]
	w.b.report.HasSite = true
}

// failed leaves out the values whose quality flag is set.
func (w *wide) failed(values *[weather.Variables]float64) {
	for v, bad := range w.bad {
		switch {
		case bad:
			w.b.report.FlagsFailed++
			values[v] = math.NaN()
		case !math.IsNaN(values[v]):
			values[v] = weather.Round1(values[v])
		}
	}
}
