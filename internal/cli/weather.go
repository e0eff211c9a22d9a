package cli

import (
	"errors"
	"fmt"
	"path/filepath"
	"time"

	"haulm/internal/app"
	"haulm/internal/fetch"
	"haulm/internal/garden"
	"haulm/internal/weather"
)

// weatherCmd gathers what is done with records: fetching, joining, shifting.
type weatherCmd struct {
	Fetch    weatherFetchCmd    `cmd:"" help:"Fetch the daily record of the nearest useful station from NCEI, over the network."`
	Forecast weatherForecastCmd `cmd:"" help:"Fetch the forecast from MET Norway, over the network."`
	Join     weatherJoinCmd     `cmd:"" help:"Join a short record of your own to a long one of a station nearby."`
	Offset   weatherOffsetCmd   `cmd:"" help:"Fit a station's record to your place by its kind and some nights of your own thermometer."`
	Convert  weatherConvertCmd  `cmd:"" help:"Read a file that does not say all itself, and write it as plain CSV."`
	Check    weatherCheckCmd    `cmd:"" help:"Hold a daily record against a monthly series."`
}

// Help gives an example.
func (weatherCmd) Help() string {
	return "Example: haulm weather fetch --lat 40.78 --lon -73.97 --out station.csv"
}

// networkFlags say how the network is used.
type networkFlags struct {
	Contact string `help:"Your mail address or page, named to the service so that it can reach you." env:"HAULM_CONTACT" placeholder:"ADDRESS"`
	Server  string `help:"Another address of the same service, such as a mirror." placeholder:"URL"`
}

// network makes the client; nothing is asked yet.
func (s *session) network(o app.NetworkOptions) (*fetch.Client, error) {
	o.Now = s.Now
	if s.Terminal {
		o.Progress = s.drawProgress
	}
	return app.Network(o)
}

// drawProgress keeps one line of the screen up to date.
func (s *session) drawProgress(p fetch.Progress) {
	switch {
	case p.Waiting > 0:
		fmt.Fprintf(s.Err, "\r%s: no answer yet, next try in %s   ", p.What, p.Waiting.Round(time.Second))
	case p.Total > 0:
		fmt.Fprintf(s.Err, "\r%s: %d of %d kB   ", p.What, p.Done>>10, p.Total>>10)
		if p.Done == p.Total {
			fmt.Fprintln(s.Err)
		}
	default:
		fmt.Fprintf(s.Err, "\r%s: %d kB   ", p.What, p.Done>>10)
	}
}

// placeFlags say where the garden lies; the garden's own place stands in.
type placeFlags struct {
	Lat  *float64 `help:"Latitude in degrees, north positive. Default: the garden's." placeholder:"N" such:"degrees such as 53.4"`
	Lon  *float64 `help:"Longitude in degrees, east positive." placeholder:"N" such:"degrees such as -6.3"`
	Elev *float64 `help:"Height above the sea in metres." placeholder:"N" such:"metres such as 71"`
}

// site is the place asked about, and whether its height is known.
func (f placeFlags) site(s *session) (weather.Site, bool, error) {
	if f.Lat != nil && f.Lon != nil {
		site := weather.Site{LatDeg: *f.Lat, LonDeg: *f.Lon}
		if f.Elev != nil {
			site.ElevM = *f.Elev
		}
		return site, f.Elev != nil, nil
	}
	if f.Lat != nil || f.Lon != nil {
		return weather.Site{}, false, errors.New("give --lat and --lon together")
	}
	g, err := s.gardenThere()
	if err != nil {
		return weather.Site{}, false, fmt.Errorf("say where the place lies with --lat and --lon (%w)", err)
	}
	if f.Elev != nil {
		g.Site.ElevM = *f.Elev
	}
	return g.Site, true, nil
}

// gardenThere is the garden in the file, if there is one.
func (s *session) gardenThere() (*garden.Garden, error) {
	desk, file, err := s.openDesk(false)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return desk.Garden()
}

// readOne reads a record that says everything itself, and warns of what was
// left out.
func (s *session) readOne(path string) (*weather.Record, error) {
	rec, report, err := recordFlags{Record: path}.read(s)
	if err != nil {
		return nil, err
	}
	s.warnRejected(filepath.Base(path)+": ", report)
	return rec, nil
}

// writeOut writes a record to --out, but not over what it was made of.
func (s *session) writeOut(out string, rec *weather.Record, inputs ...string) error {
	for _, in := range inputs {
		if filepath.Clean(in) == filepath.Clean(out) {
			return fmt.Errorf("--out %s would overwrite what it is made of; choose another name", out)
		}
	}
	return app.WriteRecord(out, rec)
}
