package readings

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"time"

	"haulm/internal/weather"
)

// MonthlyMean is one month of a service's monthly series; NaN is not known.
type MonthlyMean struct {
	Year      int
	Month     time.Month
	TmaxC     float64 // mean of the days' maxima
	TminC     float64 // mean of the days' minima
	FrostDays float64 // days whose minimum was below 0 °C
	RainMM    float64
}

// Monthly is a series of months: no record to grow through, but a check on one.
type Monthly struct {
	Name   string
	Site   weather.Site
	Months []MonthlyMean
}

// The Met Office's historic station data: a heading, then year, month, tmax,
// tmin, af (days of air frost), rain, sun in °C, days, mm and hours; --- is
// missing, * estimated, # another sunshine recorder, "Provisional" after the
// newest. Some copies are separated by tabs and have a header of words.
var (
	monthlyHead = newPattern(`(?is)^[^\n]*\n?.*?\byyyy\s+mm\s+tmax\s+tmin\s+af\s+rain|^year\tmonth\ttmax\ttmin\tfrostdays\trainfall`)
	monthlySite = newPattern(`(?i)lat\s+(-?[\d.]+)\s+lon\s+(-?[\d.]+)\s*,\s*(-?[\d.]+)\s*m`)
	monthlyRow  = newPattern(`^\s*\d{4}\s+\d{1,2}\s`)
)

func refuseMonthly(*lines, *builder) error {
	return errors.New("these are monthly means, which hold no frosty night and no dry week; give a daily record, and hold it against these with haulm weather check RECORD MONTHLY")
}

const maxMonths = 400 * 12

// ReadMonthly reads a series of months as the Met Office publishes them.
func ReadMonthly(r io.Reader, name string) (*Monthly, error) {
	m, err := readMonthly(r)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, plainError(err))
	}
	if m.Name == "" {
		m.Name = name
	}
	return m, nil
}

func readMonthly(r io.Reader) (*Monthly, error) {
	l, head, err := open(r)
	if err != nil {
		return nil, err
	}
	if !monthlyHead.MatchString(head) {
		return nil, errors.New("this is no monthly series with a header yyyy mm tmax tmin af rain")
	}
	m := &Monthly{}
	for raw, err := range l.rest() {
		if err != nil {
			return nil, err
		}
		line := string(raw)
		if !monthlyRow.MatchString(line) {
			m.heading(line, l.n)
			continue
		}
		month, err := monthOfRow(line)
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", l.n, err)
		}
		if len(m.Months) >= maxMonths {
			return nil, errors.New("the series is longer than 400 years")
		}
		m.Months = append(m.Months, month)
	}
	if len(m.Months) == 0 {
		return nil, errors.New("the series holds no month")
	}
	return m, nil
}

// heading takes name and place from the lines before the months.
func (m *Monthly) heading(line string, n int) {
	if n == 1 && !strings.Contains(line, "\t") {
		m.Name = strings.TrimSpace(line)
	}
	found := monthlySite.FindStringSubmatch(line)
	if found == nil {
		return
	}
	site, okPlace := placeOf(found[1], found[2])
	elevM, okHeight := heightOf(found[3])
	if okPlace && okHeight {
		site.ElevM = elevM
		m.Site = site
	}
}

func monthOfRow(line string) (MonthlyMean, error) {
	f := strings.Fields(line)
	if strings.Contains(line, "\t") { // an empty field is a missing value
		f = splitTabs(strings.Trim(line, "\t"), nil)
	}
	if len(f) < 6 {
		return MonthlyMean{}, fmt.Errorf("%q has fewer than six columns", shorten(line))
	}
	y, _ := strconv.Atoi(f[0])
	mm, err := strconv.Atoi(f[1])
	if _, bad := validDate(y, mm, 1, f[0]+"-"+f[1]); err != nil || bad != nil {
		return MonthlyMean{}, fmt.Errorf("%q is no year and month", shorten(f[0]+" "+f[1]))
	}
	m := MonthlyMean{Year: y, Month: time.Month(mm)}
	for i, into := range []*float64{&m.TmaxC, &m.TminC, &m.FrostDays, &m.RainMM} {
		if *into, err = monthValue(f[2+i]); err != nil {
			return MonthlyMean{}, err
		}
	}
	return m, nil
}

// monthValue reads a value with its marks.
func monthValue(text string) (float64, error) {
	text = strings.TrimRight(text, "*#$")
	if text == "---" || text == "" || text == "NA" {
		return math.NaN(), nil
	}
	x, err := strconv.ParseFloat(text, 64)
	if err != nil || !(math.Abs(x) < 5000) {
		return 0, fmt.Errorf("%q is no monthly value", shorten(text))
	}
	return x, nil
}
