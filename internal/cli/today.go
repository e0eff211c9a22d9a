package cli

import (
	"fmt"
	"os"

	"haulm/internal/app"
	"haulm/internal/calendar"
	"haulm/internal/forecast"
)

type todayCmd struct {
	Minutes  float64 `help:"The minutes you have. Default: the household's week, shared out over three visits." placeholder:"N"`
	Day      string  `help:"Another day than today." placeholder:"YYYY-MM-DD"`
	Forecast string  `help:"A forecast in MET Norway's Locationforecast JSON." placeholder:"FILE" type:"path"`
	All      bool    `help:"Show also the jobs that do not fit, and those of the days ahead."`
	JSON     bool    `help:"Print JSON."`
}

// Help gives an example.
func (todayCmd) Help() string {
	return "Example: haulm today --minutes 40"
}

// Run tells the morning's jobs, water and alarms.
func (c todayCmd) Run(s *session) error {
	if c.Minutes < 0 {
		return fmt.Errorf("--minutes %g: give the minutes you have, 0 or more", c.Minutes)
	}
	q := app.TodayQuestion{Day: calendar.None, Minutes: c.Minutes}
	if c.Day != "" {
		day, err := calendar.Parse(c.Day)
		if err != nil {
			return fmt.Errorf("--day: %w", err)
		}
		q.Day = day
	}
	if c.Forecast != "" {
		forecast, err := s.readForecast(c.Forecast)
		if err != nil {
			return err
		}
		q.Forecast = forecast
	}
	desk, file, err := s.openDesk(false)
	if err != nil {
		return err
	}
	defer file.Close()
	state, err := desk.Morning(q)
	if err != nil {
		return err
	}
	if c.JSON {
		return s.printJSON(state)
	}
	app.WriteMorning(s.Out, state, c.All)
	return nil
}

func (s *session) readForecast(path string) (*forecast.Forecast, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("--forecast: %w", err)
	}
	defer f.Close()
	forecast, err := forecast.Read(f, s.Now().Location())
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return forecast, nil
}
