package readings

import (
	"fmt"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/weather"
)

// GHCN-Daily .dly: a line is one element of one month at one station, 31 days
// of eight characters: value (5), measurement flag, quality flag, source flag.
// Temperatures and rain are in tenths of °C and mm, missing is -9999, a blank
// quality flag means that no check failed. NOAA NCEI, GHCN-Daily readme,
// section III. Its wind is left alone: the readme does not say at what height.
const (
	dlyDays    = 21
	dlyDay     = 8
	dlyMissing = -9999
	ghcnTenths = 0.1
	ghcnMaker  = "NOAA NCEI GHCN-Daily, US public domain"
)

func readDly(l *lines, b *builder) error {
	b.rec.Source = ghcnMaker
	for line, err := range l.rest() {
		if err != nil {
			return err
		}
		if len(line) == 0 {
			continue
		}
		if err := b.dlyLine(line, l); err != nil {
			return err
		}
	}
	return nil
}

func (b *builder) dlyLine(line []byte, l *lines) error {
	if len(line) < dlyDays {
		return l.short(b, shortMonth)
	}
	if err := b.station(string(line[:11]), l.n); err != nil {
		return err
	}
	v, ok := GHCNElement(string(line[17:21]))
	if !ok {
		return nil
	}
	// The last day's three flags may be blank, and blanks at line ends get lost.
	if len(line) < dlyDays+30*dlyDay+5 {
		return l.short(b, shortMonth)
	}
	y, okY := digits(line[11:15])
	m, okM := digits(line[15:17])
	if !okY || !okM {
		b.report.reject(l.n, calendar.None, fmt.Sprintf("%q is not a year and month: left out", line[11:17]))
		return nil
	}
	if _, err := validDate(y, m, 1, string(line[11:17])); err != nil {
		b.report.reject(l.n, calendar.None, err.Error()+": left out")
		return nil
	}
	first := calendar.On(y, time.Month(m), 1)
	length := int(calendar.On(y, time.Month(m+1), 1) - first)
	for d := range length {
		if err := b.dlyValue(line[dlyDays+d*dlyDay:], v, first.Add(d), l.n); err != nil {
			return err
		}
	}
	return nil
}

const shortMonth = "the line is too short for a month of days"

func (b *builder) dlyValue(cell []byte, v weather.Variable, d calendar.Date, line int) error {
	x, ok := integer(cell[:5])
	if !ok {
		b.report.reject(line, d, fmt.Sprintf("%s: %q is not a number: left out", weather.Limits[v].Name, cell[:5]))
		return nil
	}
	if x == dlyMissing {
		return nil
	}
	if len(cell) > 6 && cell[6] != ' ' {
		b.report.FlagsFailed++
		return nil
	}
	return b.putOne(d, v, weather.Round1(float64(x)*ghcnTenths), line)
}

// GHCNElement is the variable of an element of GHCN-Daily, if it is one that is
// read: TMIN, TMAX or PRCP.
func GHCNElement(name string) (weather.Variable, bool) {
	switch name {
	case "TMIN":
		return weather.Tmin, true
	case "TMAX":
		return weather.Tmax, true
	case "PRCP":
		return weather.Rain, true
	}
	return 0, false
}

// digits reads an unsigned number.
func digits(text []byte) (int, bool) {
	n := 0
	for _, c := range text {
		if c < '0' || c > '9' {
			return 0, false
		}
		n = n*10 + int(c-'0')
	}
	return n, len(text) > 0
}

// integer reads a signed number with blanks before it.
func integer(text []byte) (int, bool) {
	for len(text) > 0 && text[0] == ' ' {
		text = text[1:]
	}
	if len(text) > 0 && text[0] == '-' {
		n, ok := digits(text[1:])
		return -n, ok
	}
	return digits(text)
}
