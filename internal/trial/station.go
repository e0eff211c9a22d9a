package trial

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/weather"
)

// Stations are the runs of daily weather kept beside the trials, by station.
// A station may have several runs, with nothing between them.
type Stations map[string][]*weather.Record

var stationColumns = []string{"station", "date", "tmax_C", "tmin_C", "srad_MJ_m2", "rain_mm"}

// ReadStations reads the table of the trials' daily weather. Letters after a
// number are the station's remarks and are passed over; a day whose minimum is
// above its maximum has them changed over; days without temperatures end a
// run.
func ReadStations(from io.Reader) (Stations, error) {
	table, err := csv.NewReader(from).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("weather of the trials: %w", err)
	}
	if len(table) == 0 || strings.Join(table[0], ",") != strings.Join(stationColumns, ",") {
		return nil, fmt.Errorf("weather of the trials: the first line should be %s", strings.Join(stationColumns, ","))
	}
	stations := Stations{}
	for n, cells := range table[1:] {
		day, err := calendar.Parse(cells[1])
		if err != nil {
			return nil, fmt.Errorf("weather of the trials, line %d: %w", n+2, err)
		}
		stations.add(cells[0], day, measured(cells[2]), measured(cells[3]), measured(cells[4]), measured(cells[5]))
	}
	return stations, nil
}

// measured is a cell of the table, NaN where it holds none or a code for none.
func measured(cell string) float64 {
	x, err := strconv.ParseFloat(strings.TrimRight(cell, "abcdefghijklmnopqrstuvwxyz"), 64)
	if err != nil || x <= -50 {
		return math.NaN()
	}
	return x
}

func (s Stations) add(station string, day calendar.Date, high, low, sunMJ, rainMM float64) {
	if math.IsNaN(high) || math.IsNaN(low) {
		return
	}
	runs := s[station]
	if len(runs) == 0 || runs[len(runs)-1].End() != day {
		runs = append(runs, &weather.Record{Station: station, Name: station, Start: day})
		s[station] = runs
	}
	if sunMJ <= 0 {
		sunMJ = math.NaN()
	}
	rec := runs[len(runs)-1]
	rec.TmaxC, rec.TminC = append(rec.TmaxC, math.Max(high, low)), append(rec.TminC, math.Min(high, low))
	rec.SunMJ, rec.RainMM = append(rec.SunMJ, sunMJ), append(rec.RainMM, rainMM)
}

// The days added before and after a run: plants raised indoors are sown before
// the weather begins, and a crop may be a little later than a record that ends
// with the trial.
const (
	daysBefore, daysAfter = 60, 40
	edgeDays              = 10 // whose mean they are
)

// For is the run of weather in which a row was grown, at the row's site, with
// the days before and after made up; nil where there is none.
func (s Stations) For(row Row) *weather.Record {
	for _, station := range row.Stations {
		for _, run := range s[station] {
			if run.Start <= row.start() && row.start() < run.End() {
				return padded(run, row.Site)
			}
		}
	}
	return nil
}

func padded(run *weather.Record, site weather.Site) *weather.Record {
	pad := func(days []float64) []float64 {
		n := min(edgeDays, len(days))
		first, last := meanOf(days[:n]), meanOf(days[len(days)-n:])
		out := make([]float64, 0, len(days)+daysBefore+daysAfter)
		for range daysBefore {
			out = append(out, first)
		}
		out = append(out, days...)
		for range daysAfter {
			out = append(out, last)
		}
		return out
	}
	return &weather.Record{
		Station: run.Station, Name: run.Name, Site: site, Start: run.Start.Add(-daysBefore),
		TminC: pad(run.TminC), TmaxC: pad(run.TmaxC), RainMM: pad(run.RainMM), SunMJ: pad(run.SunMJ),
	}
}

// meanOf passes over what is missing.
func meanOf(values []float64) float64 {
	total, n := 0.0, 0.0
	for _, x := range values {
		if !math.IsNaN(x) {
			total, n = total+x, n+1
		}
	}
	return total / n
}
