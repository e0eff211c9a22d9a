package cli

import (
	"fmt"
	"os"
	"path/filepath"

	"haulm/internal/app"
	"haulm/internal/forecast"
)

type todayCmd struct {
	Minutes  float64 `help:"The minutes you have. Default: the household's week, shared out over three visits." placeholder:"N"`
	Day      string  `help:"Another day than today." placeholder:"YYYY-MM-DD"`
	Forecast string  `help:"A forecast in MET Norway's Locationforecast JSON." placeholder:"FILE" type:"path"`
	Hours    string  `help:"Hourly weather measured of late: temperature and humidity, for the blight rule. Kept with the garden." placeholder:"FILE" type:"path"`
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
	day, err := dayFlag("--day", c.Day)
	if err != nil {
		return err
	}
	q := app.TodayQuestion{Day: day, Minutes: c.Minutes}
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
	if c.Hours != "" {
		if err := s.keepHours(desk, c.Hours); err != nil {
			return err
		}
	}
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

// keepHours reads measured hours and keeps them with the garden.
func (s *session) keepHours(desk *app.Desk, path string) error {
	f, err := os.Open(path)
	if err != nil {
		return fmt.Errorf("--hours: %w", err)
	}
	defer f.Close()
	report, err := desk.ReadHours(f, filepath.Base(path))
	if err != nil {
		return fmt.Errorf("--hours: %w", err)
	}
	if report.RejectedCount > 0 {
		fmt.Fprintf(s.Err, "note: %d values of %s cannot be and are left out\n", report.RejectedCount, filepath.Base(path))
	}
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
