package weather

import (
	"errors"
	"fmt"
	"math"
	"time"

	"haulm/internal/calendar"
)

// hourVariable is one of the things measured by the hour.
type hourVariable int

const (
	hourTemp hourVariable = iota
	hourHumidity
	hourRain
	hourWind
	hourSun
	hourVariables
)

// hourLimits bound an hour's value. Rain: the hour's record is 305 mm (WMO
// extremes archive, from memory). Radiation: the sun sends 1,361 W/m2 to the
// top of the air, 4.9 MJ/m2 an hour. The others as for a day, see limits.
var hourLimits = [hourVariables]limit{
	hourTemp:     limits[tmin],
	hourHumidity: limits[humidity],
	hourRain:     {"rain", "mm", 0, 400},
	hourWind:     limits[wind],
	hourSun:      {"radiation", "MJ/m²", 0, 5},
}

// maxHourlyYears bounds what a damaged date can make a reader hold: hours
// have been logged by machines since the 1940s.
const maxHourlyYears = 120

// hourYear is one calendar year of hours as read.
type hourYear struct {
	value [hourVariables][366 * dayHours]float64
	line  [366 * dayHours]int32 // 0: not given
}

// hourBuilder gathers hours in any order.
type hourBuilder struct {
	*builder
	hourly Hourly
	years  map[int]*hourYear
	sum    [hourVariables]float64 // of each variable's sizes, to tell a column of noughts
	known  [hourVariables]int
	from   calendar.Date
	to     calendar.Date
}

func newHourBuilder(b *builder) *hourBuilder {
	return &hourBuilder{builder: b, years: map[int]*hourYear{}}
}

// putHour stores the hour of day d that ends at hour, 1 to 24.
func (h *hourBuilder) putHour(d calendar.Date, hour, line int, values [hourVariables]float64) error {
	if h.options.knowsToday() && d > h.options.Today {
		return fmt.Errorf("line %d: %s is after today, %s; a record holds only days that have been", line, d, h.options.Today)
	}
	if len(h.years) == 0 {
		h.from, h.to = d, d
	}
	h.from, h.to = min(h.from, d), max(h.to, d)
	if h.to.Year()-h.from.Year() >= maxHourlyYears {
		return fmt.Errorf("line %d: %s makes the record longer than %d years; mend the date", line, d, maxHourlyYears)
	}
	year := h.years[d.Year()]
	if year == nil {
		year = new(hourYear)
		h.years[d.Year()] = year
	}
	at := (d.YearDay()-1)*dayHours + hour - 1
	if year.line[at] != 0 {
		h.report.Duplicates++
		return nil
	}
	year.line[at] = int32(line)
	for v, x := range values {
		if !hourLimits[v].possible(x) {
			h.report.reject(line, d, fmt.Sprintf("%s %.4g %s cannot be: left out", hourLimits[v].name, x, hourLimits[v].unit))
			x = math.NaN()
		}
		if !math.IsNaN(x) {
			h.known[v]++
			h.sum[v] += math.Abs(x)
		}
		year.value[v][at] = x
	}
	return nil
}

// finishHours makes the run of hours. Rain that is nought in every hour of
// three hundred days and more was not measured: many such files fill the
// column so.
func (h *hourBuilder) finishHours() (*Hourly, error) {
	if h.known[hourTemp] == 0 {
		return nil, errors.New("the file holds no hour with a temperature; give hourly weather, a line an hour")
	}
	out := h.hourly
	out.Start = h.from
	n := int(h.to-h.from) + 1
	out.lines = h.dayLines(n)
	for v := range hourVariables {
		if h.known[v] == 0 && v != hourTemp {
			continue
		}
		if v == hourRain && h.sum[v] == 0 && n > 300 {
			h.report.Ignored = append(h.report.Ignored, "rain (nought in every hour: not measured)")
			continue
		}
		hours := missingDays(n * dayHours)
		for i := range n {
			d := h.from.Add(i)
			year := h.years[d.Year()]
			if year == nil {
				continue
			}
			for k := range dayHours {
				if at := (d.YearDay()-1)*dayHours + k; year.line[at] != 0 {
					hours[i*dayHours+k] = year.value[v][at]
				}
			}
		}
		out.setHours(v, hours)
	}
	return &out, nil
}

// dayLines is the line of each day's first hour.
func (h *hourBuilder) dayLines(n int) []int32 {
	lines := make([]int32, n)
	for i := range n {
		d := h.from.Add(i)
		if year := h.years[d.Year()]; year != nil {
			at := (d.YearDay() - 1) * dayHours
			for k := dayHours - 1; k >= 0; k-- {
				if line := year.line[at+k]; line != 0 {
					lines[i] = line
				}
			}
		}
	}
	return lines
}

func (h *Hourly) setHours(v hourVariable, hours []float64) {
	switch v {
	case hourTemp:
		h.TempC = hours
	case hourHumidity:
		h.HumidityPC = hours
	case hourRain:
		h.RainMM = hours
	case hourWind:
		h.WindMS = hours
	case hourSun:
		h.SunMJ = hours
	}
}

// putDays sums the hours up into b's days.
func (b *builder) putDays(h *Hourly) error {
	b.rec.Station, b.rec.Name, b.rec.Site, b.rec.Source = h.Station, h.Name, h.Site, h.Source
	for i := range h.Days() {
		values := h.hourlyDay(i*dayHours, (i+1)*dayHours)
		line := i + 1
		if h.lines != nil && h.lines[i] > 0 {
			line = int(h.lines[i])
		}
		if err := b.putRow(h.Start.Add(i), line, values); err != nil {
			return err
		}
	}
	return nil
}

// Daily sums the hours up into days from midnight to midnight: lowest and
// highest temperature, sum of rain and radiation, mean of humidity and wind. A
// day of fewer than 21 known hours is missing. What it makes of a typical year
// is marked as estimated: such a year never was.
func (h *Hourly) Daily() (*Record, error) {
	b := newBuilder(Options{}, "")
	b.report.HasSite = h.Site != (Site{})
	if err := b.putDays(h); err != nil {
		return nil, err
	}
	rec, _, err := b.finish()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", h.Name, err)
	}
	if h.Typical != nil {
		rec.Estimated = true
		rec.Source = fmt.Sprintf("typical year stitched from months of %s, one year without odds; %s", yearList(h.Typical), h.Source)
	}
	return rec, nil
}

// yearList names the years that a typical year was made of.
func yearList(years []int) string {
	low, high := years[0], years[0]
	for _, y := range years {
		low, high = min(low, y), max(high, y)
	}
	if low == high {
		return fmt.Sprint(low)
	}
	return fmt.Sprintf("%d to %d", low, high)
}

// typicalYear is the year whose dates a typical year is given: it has no 29th
// of February.
const typicalYear = 2001

// nextDay says whether the second of two dates in a file follows the first as
// days do.
func nextDay(a, b calendar.Date) bool { return b == a || b == a.Add(1) }

func inTypicalYear(m time.Month, d int) (calendar.Date, bool) {
	date := calendar.On(typicalYear, m, d)
	return date, date.Month() == m
}
