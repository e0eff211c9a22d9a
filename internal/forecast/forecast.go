package forecast

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/weather"
)

// Forecast is the weather that a service expects.
type Forecast struct {
	Site   weather.Site
	Source string
	Made   time.Time // when the service last calculated it
	Days   []Day
	Hours  *weather.Hourly // by the hour as far as the service goes by the hour
}

// Day is one civil day of a forecast. NaN is not known.
type Day struct {
	Date       calendar.Date
	TminC      float64 // lowest from midnight to midnight
	TmaxC      float64
	RainMM     float64
	WindMS     float64 // mean at 2 m
	HumidityPC float64 // mean
	Hours      float64 // hours of the day that the forecast covers: 24 for a whole one
	StepHours  float64 // longest time between two temperatures; above 1 the extremes are blunted
}

// Whole says whether the forecast covers the day from midnight to midnight.
func (d Day) Whole() bool { return d.Hours >= weather.DayHours-1 }

// metNorway credits the maker as CC BY 4.0 asks.
const metNorway = "forecast of MET Norway, CC BY 4.0"

const (
	maxForecastBytes = 16 << 20
	maxForecastSteps = 2000 // a forecast has about 90
	longestStep      = 24 * time.Hour
)

// metForecast is MET Norway's JSON as far as it is read: GeoJSON with a
// timeseries of instants, each with the rain of the one and six hours after
// it. MET Norway, "General forecast JSON format". Times are UTC. The compact
// and the complete form differ by the fields of the complete one alone.
type metForecast struct {
	Geometry struct {
		Coordinates []float64 `json:"coordinates"` // longitude, latitude, height
	} `json:"geometry"`
	Properties struct {
		Meta struct {
			UpdatedAt time.Time         `json:"updated_at"`
			Units     map[string]string `json:"units"`
		} `json:"meta"`
		Timeseries []metStep `json:"timeseries"`
	} `json:"properties"`
}

type metStep struct {
	Time time.Time `json:"time"`
	Data struct {
		Instant metDetails  `json:"instant"`
		Next1   *metDetails `json:"next_1_hours"`
		Next6   *metDetails `json:"next_6_hours"`
	} `json:"data"`
}

type metDetails struct {
	Details struct {
		TempC      *float64 `json:"air_temperature"`
		TempMaxC   *float64 `json:"air_temperature_max"`
		TempMinC   *float64 `json:"air_temperature_min"`
		HumidityPC *float64 `json:"relative_humidity"`
		WindMS     *float64 `json:"wind_speed"` // at 10 m
		RainMM     *float64 `json:"precipitation_amount"`
	} `json:"details"`
}

// Read reads MET Norway's Locationforecast JSON, compact or complete.
// Its days are those of zone. Units other than °C, mm, % and m/s, times that
// do not run forward and values that cannot be are errors: a forecast is
// fetched again more easily than mended.
func Read(r io.Reader, zone *time.Location) (*Forecast, error) {
	var raw metForecast
	in := json.NewDecoder(io.LimitReader(r, maxForecastBytes))
	if err := in.Decode(&raw); err != nil {
		return nil, fmt.Errorf("the forecast is no sound JSON: %w", err)
	}
	if err := raw.check(); err != nil {
		return nil, err
	}
	at := raw.Geometry.Coordinates
	f := &Forecast{Site: weather.Site{LonDeg: at[0], LatDeg: at[1]}, Source: metNorway, Made: raw.Properties.Meta.UpdatedAt}
	if len(at) > 2 {
		f.Site.ElevM = at[2]
	}
	f.Days = raw.days(zone)
	f.Hours = raw.hours(zone)
	f.Hours.Site, f.Hours.Source = f.Site, f.Source
	return f, nil
}

// metUnits are the units that the numbers are taken to be in.
var metUnits = map[string]string{
	"air_temperature": "celsius", "air_temperature_max": "celsius", "air_temperature_min": "celsius",
	"precipitation_amount": "mm", "relative_humidity": "%", "wind_speed": "m/s",
}

func (m *metForecast) check() error {
	if at := m.Geometry.Coordinates; len(at) < 2 || !(weather.Site{LatDeg: at[1], LonDeg: at[0]}).OnEarth() {
		return errors.New("the forecast does not say for which place it is")
	}
	for _, name := range slices.Sorted(maps.Keys(m.Properties.Meta.Units)) {
		unit := m.Properties.Meta.Units[name]
		if want, ok := metUnits[name]; ok && unit != want {
			return fmt.Errorf("the forecast gives %s in %q, not in %q", name, unit, want)
		}
	}
	steps := m.Properties.Timeseries
	if len(steps) == 0 {
		return errors.New("the forecast holds no times")
	}
	if len(steps) > maxForecastSteps {
		return fmt.Errorf("the forecast holds %d times, more than there can be", len(steps))
	}
	if y := steps[0].Time.Year(); y < 2000 || y > 2400 {
		return fmt.Errorf("the forecast begins in the year %d", y)
	}
	for i := range steps {
		if i > 0 {
			if gap := steps[i].Time.Sub(steps[i-1].Time); gap <= 0 || gap > longestStep {
				return fmt.Errorf("the forecast jumps from %s to %s", steps[i-1].Time.Format(time.RFC3339), steps[i].Time.Format(time.RFC3339))
			}
		}
		if err := steps[i].check(); err != nil {
			return err
		}
	}
	return nil
}

func (s *metStep) check() error {
	for _, d := range []*metDetails{&s.Data.Instant, s.Data.Next1, s.Data.Next6} {
		if d == nil {
			continue
		}
		for _, x := range []struct {
			value *float64
			of    weather.Variable
		}{{d.Details.TempC, weather.Tmin}, {d.Details.TempMinC, weather.Tmin}, {d.Details.TempMaxC, weather.Tmax}, {d.Details.HumidityPC, weather.Humidity}, {d.Details.WindMS, weather.Wind}, {d.Details.RainMM, weather.Rain}} {
			if x.value != nil && !weather.Limits[x.of].Possible(*x.value) {
				return fmt.Errorf("the forecast for %s has a %s of %g %s, which cannot be", s.Time.Format(time.RFC3339), weather.Limits[x.of].Name, *x.value, weather.Limits[x.of].Unit)
			}
		}
	}
	if s.Data.Instant.Details.TempC == nil {
		return fmt.Errorf("the forecast for %s has no temperature", s.Time.Format(time.RFC3339))
	}
	return nil
}
