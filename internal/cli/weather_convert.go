package cli

import (
	"path/filepath"

	"haulm/internal/app"
	"haulm/internal/weather"
)

type weatherConvertCmd struct {
	Files   []string `arg:"" help:"The file, or a station's files of one element each." type:"path"`
	Columns string   `help:"What stands in which column: date=DATE,tmin_c=MinTemp,tmax_c=MaxTemp,rain_mm=Rain; #3 is the third column of a file without a header." placeholder:"NAMES"`
	Station string   `help:"Which of several stations of the file." placeholder:"NAME"`
	Typical bool     `help:"Take a typical year, as an estimate without odds."`
	Lat     *float64 `help:"Latitude in degrees, north positive, where the file does not say." placeholder:"N" such:"degrees such as 53.4"`
	Lon     *float64 `help:"Longitude in degrees, east positive." placeholder:"N" such:"degrees such as -6.3"`
	Elev    *float64 `help:"Height above the sea in metres." placeholder:"N" such:"metres such as 71"`
	Out     string   `help:"The plain CSV to write (.csv or .csv.gz)." required:"" placeholder:"FILE" type:"path"`
	JSON    bool     `help:"Print JSON."`
}

// Help gives an example.
func (weatherConvertCmd) Help() string {
	return "Example: haulm weather convert station.txt --columns \"date_dmy=Day,tmin_c=Min,tmax_c=Max,rain_mm=Rain\" --out station.csv\n\nUnits stand in the names before the =: tmin_c, tmin_f, tmin_10c (tenths), rain_mm, rain_in, rain_cm, sun_mj, sun_w_m2, humidity_pc, wind_ms (2 m), wind10m_ms, wind10m_kmh, wind10m_kt, wind10m_mph. Dates: date (2001-12-31), date_dmy (31/12/2001), date_mdy (12/31/2001), or year, month and day. A station's files of one element each, as ECA&D and the Bureau of Meteorology give them, are joined: haulm weather convert TX.txt TN.txt RR.txt --out station.csv"
}

// Run converts.
func (c weatherConvertCmd) Run(s *session) error {
	rec, report, err := app.ReadRecord(app.ReadQuestion{Files: c.Files, Columns: c.Columns, Station: c.Station, Typical: c.Typical, Today: s.today()})
	if err != nil {
		return err
	}
	if err := (app.SiteOptions{LatDeg: c.Lat, LonDeg: c.Lon, ElevM: c.Elev}).Apply(rec); err != nil {
		return err
	}
	if err := s.writeOut(c.Out, rec, c.Files...); err != nil {
		return err
	}
	_, gaps := weather.Fill(rec, weather.WMORules())
	d := app.DescribeRecord(rec, report, gaps)
	if c.JSON {
		return s.printJSON(d)
	}
	s.printf("%s: %s\n%s to %s, %d days; missing: %d minima, %d maxima, %d days of rain\n", filepath.Base(c.Files[0]), d.Format, d.From, d.To, d.Days, d.MissingTmin, d.MissingTmax, d.MissingRain)
	if report.RejectedCount > 0 {
		s.printf("%s\n", rejectedWords(report))
	}
	if d.Estimated {
		s.printf("estimated: %s\n", d.Source)
	}
	s.printf("written to %s\n", c.Out)
	return nil
}

type weatherCheckCmd struct {
	Record  string `arg:"" help:"The daily record." type:"path"`
	Monthly string `arg:"" help:"The monthly series." type:"path"`
	JSON    bool   `help:"Print JSON."`
}

// Help gives an example.
func (weatherCheckCmd) Help() string {
	return "Example: haulm weather check station.csv heathrowdata.txt\n\nThe monthly series is one as the Met Office publishes them: year, month, mean maximum and minimum, days of air frost, rain."
}

// Run checks.
func (c weatherCheckCmd) Run(s *session) error {
	rec, err := s.readOne(c.Record)
	if err != nil {
		return err
	}
	a, err := app.CheckMonthly(rec, c.Monthly)
	if err != nil {
		return err
	}
	if c.JSON {
		return s.printJSON(a)
	}
	s.printf("%d months in common with %s; record less series:\n%-22s %8s %8s %8s\n", a.Months, a.Series, "", "months", "mean", "rms")
	for _, row := range []struct {
		name string
		of   app.DifferenceAnswer
	}{{"maximum, °C", a.TmaxC}, {"minimum, °C", a.TminC}, {"days of air frost", a.FrostDays}, {"rain, mm", a.RainMM}} {
		s.printf("%-22s %8d %8s %8s\n", row.name, row.of.Months, placed(row.of.Mean, 2), placed(row.of.RMS, 2))
	}
	for _, worst := range a.Worst {
		s.printf("%s\n", worst)
	}
	return nil
}
