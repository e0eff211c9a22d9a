package cli

import (
	"errors"
	"fmt"
	"strings"

	"haulm/internal/app"
	"haulm/internal/garden"
	"haulm/internal/readings"
	"haulm/internal/store"
	"haulm/internal/weather"
)

// recordFlags name a weather record and its site.
type recordFlags struct {
	Record string   `help:"A daily weather record: GHCN-Daily .dly, NCEI CSV, plain CSV with units in its header, and others; .gz of each." placeholder:"FILE" type:"path"`
	Place  string   `help:"Where it is: a town or village, with its country or region after a comma." placeholder:"NAME"`
	Lat    *float64 `help:"Latitude in degrees, north positive." placeholder:"N" such:"degrees such as 53.4"`
	Lon    *float64 `help:"Longitude in degrees, east positive." placeholder:"N" such:"degrees such as -6.3"`
	Elev   *float64 `help:"Height above the sea in metres." placeholder:"N" such:"metres such as 71"`
}

// at finds the place that is named and puts its site where no figure is given;
// nil where none is named.
func (f *recordFlags) at() (*app.PlaceAnswer, error) {
	if f.Place == "" {
		return nil, nil
	}
	if f.Lat != nil || f.Lon != nil {
		return nil, errors.New("give either --place or --lat and --lon, not both")
	}
	var atlas app.Atlas
	found, err := atlas.One(f.Place)
	if err != nil {
		return nil, fmt.Errorf("--place: %w", err)
	}
	f.Lat, f.Lon = &found.LatDeg, &found.LonDeg
	if f.Elev == nil {
		f.Elev = &found.ElevM
	}
	return &found, nil
}

// read reads the record, with a report of what was left out; where none is named it
// is a first estimate, without a report.
func (f recordFlags) read(s *session) (*weather.Record, *readings.Report, error) {
	if f.Record == "" {
		rec, err := f.estimate()
		return rec, nil, err
	}
	rec, report, err := readings.ReadFile(f.Record, readings.Options{Today: s.today()})
	if err != nil {
		return nil, nil, err
	}
	site := app.SiteOptions{LatDeg: f.Lat, LonDeg: f.Lon, ElevM: f.Elev}
	if err := site.Apply(rec); err != nil {
		return nil, nil, err
	}
	return rec, report, nil
}

// estimate is a first estimate for the place, where no record is named.
func (f recordFlags) estimate() (*weather.Record, error) {
	if f.Lat == nil || f.Lon == nil {
		return nil, errNoWeather
	}
	var place weather.Record
	site := app.SiteOptions{LatDeg: f.Lat, LonDeg: f.Lon, ElevM: f.Elev}
	if err := site.Apply(&place); err != nil {
		return nil, err
	}
	if f.Elev == nil {
		height, err := app.GroundHeight(place.Site.LatDeg, place.Site.LonDeg)
		if err != nil {
			return nil, err
		}
		place.Site.ElevM = height
	}
	return app.EstimateFor(place.Site)
}

// errNoWeather is said where nothing names the weather and there is no garden.
var errNoWeather = errors.New("name a weather record with --record FILE, or a place with --place NAME (or --lat N --lon N) for a first estimate; a garden of yours would bring its own")

// prepared is weather made ready to grow in, and where it comes from.
type prepared struct {
	*app.Weather
	garden *garden.Garden   // whose it is; nil where a record or a place was named
	report *readings.Report // of the record that was named
}

// prepare makes the weather that is named ready to grow in: a record, an
// estimate, or else that of the garden.
func (f recordFlags) prepare(s *session) (prepared, error) {
	if f.Record == "" && f.Lat == nil && f.Lon == nil {
		return s.ownWeather()
	}
	rec, report, err := f.read(s)
	if err != nil {
		return prepared{}, err
	}
	s.warnRejected("", report)
	w, err := app.Prepare(rec, s.catalogue)
	return prepared{Weather: w, report: report}, err
}

// ownWeather is the garden's.
func (s *session) ownWeather() (prepared, error) {
	desk, file, err := s.openDesk(false)
	if store.KindOf(err) == store.Missing {
		return prepared{}, errNoWeather
	}
	if err != nil {
		return prepared{}, err
	}
	defer file.Close()
	g, err := desk.Garden()
	if errors.Is(err, app.ErrNoGarden) {
		return prepared{}, errNoWeather
	}
	if err != nil {
		return prepared{}, err
	}
	w, err := desk.Weather()
	return prepared{Weather: w, garden: g}, err
}

// printOwn says that an answer is for the garden.
func printOwn(s *session, g *garden.Garden) {
	if g != nil {
		s.printf("%s: %.2f, %.2f, %.0f m\n", g.Name, g.Site.LatDeg, g.Site.LonDeg, g.Site.ElevM)
	}
}

// warnRejected warns of what a reader left out, of which of several records where
// that is said; there is no report on an estimate.
func (s *session) warnRejected(of string, report *readings.Report) {
	if report != nil && report.RejectedCount > 0 {
		fmt.Fprintf(s.Err, "note: %s%s; haulm record FILE lists them\n", of, rejectedWords(report))
	}
}

// rejectedWords says in one line what a reader left out.
func rejectedWords(report *readings.Report) string {
	first := report.Rejected[0]
	return fmt.Sprintf("%d impossible or unreadable values left out, the first on line %d (%s: %s)",
		report.RejectedCount, first.Line, first.Date, first.What)
}

type recordCmd struct {
	File string `arg:"" help:"The record." type:"path"`
	JSON bool   `help:"Print JSON."`
}

// Help gives an example.
func (recordCmd) Help() string {
	return "Example: haulm record station.dly.gz\n\nA record that you write yourself is plain CSV with units in its header: date,tmin_c,tmax_c,rain_mm or date,tmin_f,tmax_f,rain_in; sun_mj, humidity_pc and wind_ms may follow."
}

// Run reads the record and tells what is in it.
func (c recordCmd) Run(s *session) error {
	rec, report, err := recordFlags{Record: c.File}.read(s)
	if err != nil {
		return err
	}
	_, gaps := weather.Fill(rec, weather.WMORules())
	if c.JSON {
		return s.printJSON(app.DescribeRecord(rec, report, gaps))
	}
	d := app.DescribeRecord(rec, report, gaps)
	s.printf("%s: %s\n%s to %s, %d days\n", c.File, d.Format, d.From, d.To, d.Days)
	s.printf("missing: %d minima, %d maxima, %d days of rain\n", d.MissingTmin, d.MissingTmax, d.MissingRain)
	if len(d.LeftOut) > 0 {
		s.printf("years with too many gaps to grow through: %s\n", strings.Trim(fmt.Sprint(d.LeftOut), "[]"))
	}
	if d.FlagsFailed > 0 {
		s.printf("%d values had failed their station's own quality checks and were left out\n", d.FlagsFailed)
	}
	for _, line := range d.Rejected {
		s.printf("line %d, %s: %s\n", line.Line, line.Date, line.What)
	}
	if d.RejectedCount > len(d.Rejected) {
		s.printf("and %d more\n", d.RejectedCount-len(d.Rejected))
	}
	return nil
}
