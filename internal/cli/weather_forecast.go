package cli

import (
	"fmt"
	"time"

	"haulm/internal/app"
)

type weatherForecastCmd struct {
	placeFlags
	networkFlags
	Zone string `help:"Time zone of the place, such as Europe/Dublin. Default: this machine's." placeholder:"NAME"`
	JSON bool   `help:"Print JSON."`
}

// Help gives an example.
func (weatherForecastCmd) Help() string {
	return "Example: haulm weather forecast --lat 53.4 --lon -6.2 --contact you@example.org\n\nThe service wants to know whom to reach and not to be asked more often than its forecast changes; Haulm keeps the last answer until it expires. Coordinates are sent with four decimals at most."
}

// Run fetches the forecast.
func (c weatherForecastCmd) Run(s *session) error {
	site, hasHeight, err := c.site(s)
	if err != nil {
		return err
	}
	zone := s.Now().Location()
	if c.Zone != "" {
		if zone, err = time.LoadLocation(c.Zone); err != nil {
			return fmt.Errorf("--zone: there is no time zone %q; write one like Europe/Dublin", c.Zone)
		}
	}
	client, err := s.network(app.NetworkOptions{Contact: c.Contact, METNorway: c.Server})
	if err != nil {
		return err
	}
	a, err := app.FetchForecast(s.ctx, client, site, hasHeight, zone)
	if err != nil {
		return err
	}
	if c.JSON {
		return s.printJSON(a)
	}
	s.printForecast(a, zone)
	return nil
}

func (s *session) printForecast(a app.ForecastAnswer, zone *time.Location) {
	s.printf("%-12s %6s %6s %6s %6s %5s\n", "", "min °C", "max °C", "rain", "wind", "RH %")
	for _, d := range a.Days {
		mark := ""
		if !d.Whole {
			mark = "  part of the day"
		} else if d.StepHours > 1 {
			mark = fmt.Sprintf("  by %.0f hours: the night may be colder", d.StepHours)
		}
		s.printf("%-12s %6s %6s %6s %6s %5s%s\n", d.Date, placed(d.TminC, 1), placed(d.TmaxC, 1), placed(d.RainMM, 1), placed(d.WindMS, 1), placed(d.HumidityPC, 1), mark)
	}
	s.printf("%s; made %s, not asked for again before %s\n", a.Source, a.Made.In(zone).Format("15:04 on 2 January"), a.Expires.In(zone).Format("15:04"))
	if a.Stale != "" {
		fmt.Fprintf(s.Err, "note: this is the last forecast that came: %s\n", a.Stale)
	}
	if a.Deprecated {
		fmt.Fprintln(s.Err, "note: the service will end this version of its forecast; look for a newer Haulm")
	}
}

// placed is a figure to so many decimals, or a dash where there is none.
func placed(x *float64, decimals int) string {
	if x == nil {
		return "–"
	}
	return fmt.Sprintf("%.*f", decimals, *x)
}
