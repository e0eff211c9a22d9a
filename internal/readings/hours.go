package readings

import (
	"errors"
	"fmt"
	"math"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/weather"
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
// top of the air, 4.9 MJ/m2 an hour. The others as for a day, see weather.Limits.
var hourLimits = [hourVariables]weather.Limit{
	hourTemp:     weather.Limits[weather.Tmin],
	hourHumidity: weather.Limits[weather.Humidity],
	hourRain:     {Name: "rain", Unit: "mm", Low: 0, Top: 400},
	hourWind:     weather.Limits[weather.Wind],
	hourSun:      {Name: "radiation", Unit: "MJ/m²", Low: 0, Top: 5},
}

// maxHourlyYears bounds what a damaged date can make a reader hold: hours
// have been logged by machines since the 1940s.
const maxHourlyYears = 120

// hourYear is one calendar year of hours as read.
type hourYear struct {
	value [hourVariables][366 * weather.DayHours]float64
	line  [366 * weather.DayHours]int32 // 0: not given
}

// hourBuilder gathers hours in any order.
type hourBuilder struct {
	*builder
	hourly weather.Hourly
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
	if err := h.options.hasBeen(d, line); err != nil {
		return err
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
	at := (d.YearDay()-1)*weather.DayHours + hour - 1
	if year.line[at] != 0 {
		h.report.Duplicates++
		return nil
	}
	year.line[at] = int32(line)
	for v, x := range values {
		if !hourLimits[v].Possible(x) {
			h.report.reject(line, d, fmt.Sprintf("%s %.4g %s cannot be: left out", hourLimits[v].Name, x, hourLimits[v].Unit))
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
func (h *hourBuilder) finishHours() (*hourRun, error) {
	if h.known[hourTemp] == 0 {
		return nil, errors.New("the file holds no hour with a temperature; give hourly weather, a line an hour")
	}
	out := h.hourly
	out.Start = h.from
	n := int(h.to-h.from) + 1
	for v := range hourVariables {
		if h.known[v] == 0 && v != hourTemp {
			continue
		}
		if v == hourRain && h.sum[v] == 0 && n > 300 {
			h.report.Ignored = append(h.report.Ignored, "rain (nought in every hour: not measured)")
			continue
		}
		hours := weather.MissingDays(n * weather.DayHours)
		for i := range n {
			d := h.from.Add(i)
			year := h.years[d.Year()]
			if year == nil {
				continue
			}
			for k := range weather.DayHours {
				if at := (d.YearDay()-1)*weather.DayHours + k; year.line[at] != 0 {
					hours[i*weather.DayHours+k] = year.value[v][at]
				}
			}
		}
		*hoursOf(&out, v) = hours
	}
	return &hourRun{out, h.dayLines(n)}, nil
}

// dayLines is the line of each day's first hour.
func (h *hourBuilder) dayLines(n int) []int32 {
	lines := make([]int32, n)
	for i := range n {
		d := h.from.Add(i)
		if year := h.years[d.Year()]; year != nil {
			at := (d.YearDay() - 1) * weather.DayHours
			for k := weather.DayHours - 1; k >= 0; k-- {
				if line := year.line[at+k]; line != 0 {
					lines[i] = line
				}
			}
		}
	}
	return lines
}

// hoursOf is where a variable's hours stand.
func hoursOf(h *weather.Hourly, v hourVariable) *[]float64 {
	return [hourVariables]*[]float64{&h.TempC, &h.HumidityPC, &h.RainMM, &h.WindMS, &h.SunMJ}[v]
}

// hourRun is a file's hours, and the line at which each day starts; nil where
// there was no file.
type hourRun struct {
	weather.Hourly
	lines []int32
}

// putDays sums the hours up into b's days.
func (b *builder) putDays(h *hourRun) error {
	b.rec.Station, b.rec.Name, b.rec.Site, b.rec.Source = h.Station, h.Name, h.Site, h.Source
	for i := range h.Days() {
		line := i + 1
		if h.lines != nil && h.lines[i] > 0 {
			line = int(h.lines[i])
		}
		if err := b.putRow(h.Start.Add(i), line, h.DayValues(i)); err != nil {
			return err
		}
	}
	return nil
}

// Daily sums the hours up into days from midnight to midnight: lowest and
// highest temperature, sum of rain and radiation, mean of humidity and wind. A
// day of fewer than 21 known hours is missing. What it makes of a typical year
// is marked as estimated: such a year never was.
func Daily(h *weather.Hourly) (*weather.Record, error) {
	b := newBuilder(Options{}, "")
	b.report.HasSite = h.Site != (weather.Site{})
	if err := b.putDays(&hourRun{Hourly: *h}); err != nil {
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
