package forecast

import (
	"math"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/weather"
)

// days sums the steps up by the civil days of zone.
func (m *metForecast) days(zone *time.Location) []Day {
	var out []*dayTotals
	steps := m.Properties.Timeseries
	for i := range steps {
		from, to := steps[i].Time, steps[i].until(steps, i)
		for at := from; ; {
			end := midnightAfter(at, zone)
			d := totalsOf(&out, at.In(zone))
			d.take(&steps[i], from, at, earlier(end, to), to)
			if !end.Before(to) {
				// A step that ends at midnight gives its last temperature to
				// the day that ends there as well.
				if end.Equal(to) && i+1 < len(steps) {
					d.temperature(*steps[i+1].Data.Instant.Details.TempC)
				}
				break
			}
			at = end
		}
	}
	var days []Day
	for _, d := range out {
		if d.hours > 0 {
			days = append(days, d.day())
		}
	}
	return days
}

// until is when a step gives way to the next; the last has no length.
func (s *metStep) until(steps []metStep, i int) time.Time {
	if i+1 < len(steps) {
		return steps[i+1].Time
	}
	return s.Time
}

// dayTotals is a day while it is summed up.
type dayTotals struct {
	date                calendar.Date
	low, high           float64
	rain, rainHours     float64
	wind, windHours     float64
	humid, humidHours   float64
	hours, longestHours float64
}

func totalsOf(days *[]*dayTotals, at time.Time) *dayTotals {
	date := calendar.FromTime(at)
	if n := len(*days); n > 0 && (*days)[n-1].date == date {
		return (*days)[n-1]
	}
	d := &dayTotals{date: date, low: math.Inf(1), high: math.Inf(-1)}
	*days = append(*days, d)
	return d
}

// take adds the stretch of a step, begun at from and ending at end, that lies
// between a and b.
func (d *dayTotals) take(s *metStep, from, a, b, end time.Time) {
	instant := s.Data.Instant.Details
	if a.Equal(from) {
		d.temperature(*instant.TempC)
	}
	hours, step := b.Sub(a).Hours(), end.Sub(from).Hours()
	if hours <= 0 {
		return
	}
	d.hours += hours
	d.longestHours = max(d.longestHours, step)
	if instant.WindMS != nil {
		d.wind += weather.WindAt2M(*instant.WindMS, weather.SynopticWindM) * hours
		d.windHours += hours
	}
	if instant.HumidityPC != nil {
		d.humid += *instant.HumidityPC * hours
		d.humidHours += hours
	}
	if mm, ok := s.rainPerHour(step); ok {
		d.rain += mm * hours
		d.rainHours += hours
	}
	if six := s.Data.Next6; six != nil && step > 1 {
		// The complete form gives the extremes of the six hours themselves.
		d.temperatureIf(six.Details.TempMinC)
		d.temperatureIf(six.Details.TempMaxC)
	}
}

func (d *dayTotals) temperature(tempC float64) {
	d.low, d.high = min(d.low, tempC), max(d.high, tempC)
}

func (d *dayTotals) temperatureIf(tempC *float64) {
	if tempC != nil {
		d.temperature(*tempC)
	}
}

// rainPerHour is the rain of a step, spread over it, in mm an hour.
func (s *metStep) rainPerHour(stepHours float64) (float64, bool) {
	if one := s.Data.Next1; one != nil && one.Details.RainMM != nil && stepHours <= 1 {
		return *one.Details.RainMM, true
	}
	if six := s.Data.Next6; six != nil && six.Details.RainMM != nil {
		return *six.Details.RainMM / 6, true
	}
	return 0, false
}

func (d *dayTotals) day() Day {
	mean := func(sum, hours float64) float64 {
		if hours < d.hours/2 || hours == 0 {
			return math.NaN()
		}
		return sum / hours
	}
	return Day{
		Date: d.date, TminC: d.low, TmaxC: d.high, Hours: d.hours, StepHours: d.longestHours,
		RainMM: mean(d.rain, d.rainHours) * d.hours, WindMS: mean(d.wind, d.windHours), HumidityPC: mean(d.humid, d.humidHours),
	}
}

// hours lays the hourly part out by the hours of zone's days.
func (m *metForecast) hours(zone *time.Location) *weather.Hourly {
	steps := m.Properties.Timeseries
	start := calendar.FromTime(steps[0].Time.In(zone))
	days := int(calendar.FromTime(steps[len(steps)-1].Time.In(zone))-start) + 1
	h := &weather.Hourly{Start: start, TempC: weather.MissingDays(days * weather.DayHours), HumidityPC: weather.MissingDays(days * weather.DayHours),
		RainMM: weather.MissingDays(days * weather.DayHours), WindMS: weather.MissingDays(days * weather.DayHours)}
	last := -1
	for i := range steps {
		local := steps[i].Time.In(zone)
		slot := int(calendar.FromTime(local)-start)*weather.DayHours + local.Hour() - 1
		rain, okRain := steps[i].rainPerHour(1)
		if okRain && steps[i].Data.Next1 != nil && slot+1 < len(h.RainMM) && math.IsNaN(h.RainMM[slot+1]) {
			h.RainMM[slot+1] = rain
		}
		if slot < 0 || slot == last {
			continue
		}
		last = slot
		instant := steps[i].Data.Instant.Details
		h.TempC[slot] = *instant.TempC
		if instant.HumidityPC != nil {
			h.HumidityPC[slot] = *instant.HumidityPC
		}
		if instant.WindMS != nil {
			h.WindMS[slot] = weather.WindAt2M(*instant.WindMS, weather.SynopticWindM)
		}
	}
	return h
}

// midnightAfter is the first moment of the civil day after at's.
func midnightAfter(at time.Time, zone *time.Location) time.Time {
	y, m, d := at.In(zone).Date()
	next := time.Date(y, m, d+1, 0, 0, 0, 0, zone)
	if !next.After(at) { // a zone that skips the midnight itself
		next = at.Add(time.Hour)
	}
	return next
}

func earlier(a, b time.Time) time.Time {
	if a.Before(b) {
		return a
	}
	return b
}
