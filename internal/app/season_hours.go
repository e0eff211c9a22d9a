package app

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"

	"haulm/internal/calendar"
	"haulm/internal/garden"
	"haulm/internal/readings"
	"haulm/internal/season"
	"haulm/internal/weather"
)

// ReadHours reads a file of measured hours and keeps them with the garden in
// place of any before. Nothing is kept where they could not serve the rules of
// disease, which go by temperature and humidity.
func (d *Desk) ReadHours(r io.Reader, name string) (*readings.Report, error) {
	h, report, err := readings.ReadHourly(r, name, readings.HourlyOptions{Options: readings.Options{Today: d.Today()}})
	switch {
	case err != nil:
		return nil, err
	case h.Typical != nil:
		return nil, fmt.Errorf("%s is a typical year, stitched from several: blight goes by hours that were measured of late", name)
	case knownHours(h) == 0:
		return nil, fmt.Errorf("%s has no hour with both temperature and relative humidity: blight goes by the two; give the columns temp_c and rh_pct", name)
	}
	if h.Source == "" {
		h.Source = name
	}
	return report, d.KeepHours(h)
}

// knownHours is how many hours have temperature and humidity.
func knownHours(h *weather.Hourly) int {
	n := 0
	for i := range min(len(h.TempC), len(h.HumidityPC)) {
		if !math.IsNaN(h.TempC[i]) && !math.IsNaN(h.HumidityPC[i]) {
			n++
		}
	}
	return n
}

// KeepHours keeps measured hours with the garden's record, for the rules of
// disease that go by the hour.
func (d *Desk) KeepHours(h *weather.Hourly) error {
	g, err := d.Garden()
	if err != nil {
		return err
	}
	if d.file == nil {
		return errNotKept
	}
	return d.file.SaveHours(context.Background(), g.WeatherRef, h)
}

// keptHours are the measured hours kept with the garden's record, nil for none.
func (d *Desk) keptHours(g *garden.Garden) (*weather.Hourly, error) {
	if d.file == nil {
		return nil, nil
	}
	return d.file.LoadHours(context.Background(), g.WeatherRef)
}

// HoursMark changes with the hours that are kept; "" for none.
func (d *Desk) HoursMark() (string, error) {
	g, err := d.Garden()
	if err != nil || d.file == nil {
		return "", err
	}
	return d.file.HoursMark(context.Background(), g.WeatherRef)
}

// DropHours takes the kept hours away: disease is told by the day again.
func (d *Desk) DropHours() error {
	g, err := d.Garden()
	if err != nil {
		return err
	}
	if d.file == nil {
		return errors.New("no hours are kept with this garden")
	}
	return d.file.DropHours(context.Background(), g.WeatherRef)
}

// HoursTold is what is known of the hours that are kept.
type HoursTold struct {
	Known    int // with temperature and humidity
	From, To calendar.Date
	Source   string
	Late     bool // they reach the days that the rules look at
}

// Hours tells of the hours that are kept, nil for none.
func (d *Desk) Hours() (*HoursTold, error) {
	g, err := d.Garden()
	if err != nil {
		return nil, err
	}
	h, err := d.keptHours(g)
	if err != nil || h == nil {
		return nil, err
	}
	told := &HoursTold{Known: knownHours(h), From: h.Start, To: h.Start.Add(h.Days() - 1), Source: h.Source}
	told.Late = told.To >= d.Today().Add(-season.DampBehindDays) && told.From < d.Today()
	return told, nil
}
