package cli

import (
	"fmt"
	"math"
	"time"

	"haulm/internal/app"
	"haulm/internal/weather"
)

type weatherJoinCmd struct {
	Own     string `arg:"" help:"Your own record." type:"path"`
	Station string `arg:"" help:"The long record of a station nearby." type:"path"`
	Out     string `help:"Write the joined record to this file." placeholder:"FILE" type:"path"`
	JSON    bool   `help:"Print JSON."`
}

// Help gives an example.
func (weatherJoinCmd) Help() string {
	return "Example: haulm weather join own.csv station.csv --out garden.csv\n\nFor minimum and maximum apart, what your place is warmer or colder by is fitted month by month on the days that both measured, and the station's record shifted by it. Your own days stay as you measured them."
}

// Run joins.
func (c weatherJoinCmd) Run(s *session) error {
	own, err := s.readOne(c.Own)
	if err != nil {
		return err
	}
	station, err := s.readOne(c.Station)
	if err != nil {
		return err
	}
	a, err := app.JoinRecords(own, station)
	if err != nil {
		return err
	}
	if c.Out != "" {
		if err := s.writeOut(c.Out, a.Record, c.Own, c.Station); err != nil {
			return err
		}
	}
	if c.JSON {
		return s.printJSON(a)
	}
	s.printf("%s\n%d days in common. Offsets in °C, give or take their standard error:\n%-6s %5s %16s %16s\n", a.Sentence, a.Days, "", "days", "minimum", "maximum")
	for m := range a.Tmin {
		s.printf("%-6s %5d %16s %16s\n", time.Month(m + 1).String()[:3], a.Tmin[m].Days, offsetWords(a.Tmin[m]), offsetWords(a.Tmax[m]))
	}
	s.printf("%-6s %5d %16s %16s\n", "year", a.TminYear.Days, offsetWords(a.TminYear), offsetWords(a.TmaxYear))
	s.printf("clear nights %s, dull nights %s\n", offsetWords(a.ClearTmin), offsetWords(a.DullTmin))
	if c.Out != "" {
		s.printf("written to %s: %s to %s\n", c.Out, a.Record.Start, a.Record.End().Add(-1))
	}
	return nil
}

func offsetWords(o app.OffsetAnswer) string {
	if o.C == nil || o.Error == nil {
		return "–"
	}
	return fmt.Sprintf("%+.1f ± %.1f", *o.C+0, math.Max(0.1, *o.Error))
}

type weatherOffsetCmd struct {
	Station string   `arg:"" optional:"" help:"The station's record. Default: the garden's." type:"path"`
	Place   string   `help:"The kind of place: open, frost_pocket, slope, wall or covered." default:"open"`
	Night   []string `help:"A night of your own thermometer, its morning's date and lowest °C. May be given often." placeholder:"2027-04-12=-1.5" sep:"none"`
	Out     string   `help:"Write the shifted record to this file." placeholder:"FILE" type:"path"`
	JSON    bool     `help:"Print JSON."`
}

// Help gives an example.
func (weatherOffsetCmd) Help() string {
	return "Example: haulm weather offset station.csv --place frost_pocket --night 2027-04-12=-1.5 --night 2027-04-13=-2.0 --out garden.csv\n\nThree clear, still nights say much, dull ones little: the kind of place is where the guess starts, and each clear night draws it towards what you measured. The station's record must reach to those nights."
}

// Run fits and shifts.
func (c weatherOffsetCmd) Run(s *session) error {
	station, err := c.record(s)
	if err != nil {
		return err
	}
	a, err := app.FitNights(app.NightsQuestion{Station: station, Place: c.Place, Nights: c.Night})
	if err != nil {
		return err
	}
	if c.Out != "" {
		if err := s.writeOut(c.Out, a.Record, c.Station); err != nil {
			return err
		}
	}
	if c.JSON {
		return s.printJSON(a)
	}
	s.printf("%s\nbefore any night: %s (%s: %s; %s, grade %s)\n", a.Sentence, offsetWords(a.Before), a.Place, a.Is, a.Source, a.Grade)
	for _, n := range a.Nights {
		s.printf("%s  garden %.1f °C, station %.1f °C, clear to %s of 1\n", n.Date, n.TminC, n.StationC, placed(n.Clarity, 1))
	}
	for _, d := range a.Unknown {
		s.printf("%s  the station's record has no minimum\n", d)
	}
	if c.Out != "" {
		s.printf("written to %s\n", c.Out)
	}
	return nil
}

func (c weatherOffsetCmd) record(s *session) (*weather.Record, error) {
	if c.Station != "" {
		return s.readOne(c.Station)
	}
	desk, file, err := s.openDesk(false)
	if err != nil {
		return nil, fmt.Errorf("name the station's record, or make a garden that has one (%w)", err)
	}
	defer file.Close()
	w, err := desk.Weather()
	if err != nil {
		return nil, err
	}
	return w.Measured, nil
}
