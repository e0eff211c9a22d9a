package cli

import (
	"errors"
	"fmt"
	"strings"

	"haulm/internal/app"
	"haulm/internal/fetch"
	"haulm/internal/store"
	"haulm/internal/weather"
)

type weatherFetchCmd struct {
	placeFlags
	networkFlags
	Station    string `help:"The station's identifier, such as USW00094728. Default: the most useful near the place." placeholder:"ID"`
	List       bool   `help:"Only list the stations near the place."`
	Count      int    `help:"How many to list." default:"8"`
	Out        string `help:"Write the record to this file (.csv or .csv.gz)." placeholder:"FILE" type:"path"`
	AsMeasured bool   `help:"Let the garden grow in the record as the station measured it, without bringing it to the garden's height."`
	JSON       bool   `help:"Print JSON."`
}

// Help gives an example.
func (weatherFetchCmd) Help() string {
	return "Example: haulm weather fetch --lat 40.78 --lon -73.97 --out station.csv\n\nWithout --out the record is kept with the garden, which then grows in it, brought to the garden's height by a published lapse rate (--as-measured leaves it). The network is used for nothing else. The lists of stations (some 50 MB) are fetched once a month at most; a download that breaks off is taken up where it stopped."
}

// Run fetches.
func (c weatherFetchCmd) Run(s *session) error {
	q := app.StationQuestion{Station: strings.ToUpper(c.Station), Count: c.Count, Year: s.today().Year()}
	if c.Count < 1 || c.Count > 200 {
		return errors.New("--count must be from 1 to 200")
	}
	var err error
	if q.Site, q.HasHeight, err = c.site(s); err != nil && (q.Station == "" || c.List || c.Lat != nil || c.Lon != nil) {
		return err
	}
	if !c.List {
		if err := c.canKeep(s); err != nil {
			return err // before the network is troubled
		}
	}
	client, err := s.network(app.NetworkOptions{Contact: c.Contact, NCEI: c.Server})
	if err != nil {
		return err
	}
	if c.List {
		return c.list(s, client, q)
	}
	fetched, err := app.FetchRecord(s.ctx, client, q)
	if err != nil {
		return err
	}
	return c.keep(s, fetched)
}

// canKeep says whether there is a place for the record.
func (c weatherFetchCmd) canKeep(s *session) error {
	if c.Out != "" {
		return nil
	}
	file, err := s.openFile(false)
	if store.KindOf(err) == store.Missing {
		return errors.New("there is no garden yet to keep the record with: write it to a file with --out FILE.csv, or make a garden first with haulm serve")
	}
	if err != nil {
		return err
	}
	return file.Close()
}

func (c weatherFetchCmd) list(s *session, client *fetch.Client, q app.StationQuestion) error {
	stations, err := app.Stations(s.ctx, client, q)
	if err != nil {
		return err
	}
	if c.JSON {
		return s.printJSON(stations)
	}
	s.printf("%-12s %7s %7s  %-11s %-5s %s\n", "station", "km", "m", "years", "rain", "name")
	for _, st := range stations {
		s.printf("%-12s %7.0f %7s  %d–%d   %-5s %s\n", st.ID, st.DistanceKM, heightWords(st.ElevM), st.First, st.Last, yesNo(st.Rain), st.Name)
	}
	return nil
}

func heightWords(elevM *float64) string {
	if elevM == nil {
		return "?"
	}
	return fmt.Sprintf("%.0f", *elevM)
}

func yesNo(yes bool) string {
	if yes {
		return "yes"
	}
	return "no"
}

// keep puts the record where it was asked for and tells of it.
func (c weatherFetchCmd) keep(s *session, f *app.Fetched) error {
	if f.Stale != nil {
		fmt.Fprintf(s.Err, "note: an older copy stands in: %v\n", f.Stale)
	}
	kept := ""
	if c.Out != "" {
		if err := app.WriteRecord(c.Out, f.Record); err != nil {
			return err
		}
		kept = c.Out
	}
	if c.Out == "" || s.gardenAt != "" {
		desk, file, err := s.openDesk(false)
		if err != nil {
			return err
		}
		defer file.Close()
		if err := desk.KeepFetched(f, c.AsMeasured); err != nil {
			return err
		}
		kept = strings.TrimPrefix(kept+" and the garden", " and ")
	}
	_, gaps := weather.Fill(f.Record, weather.WMORules())
	described := app.DescribeRecord(f.Record, f.Report, gaps)
	if c.JSON {
		return s.printJSON(struct {
			Station app.StationAnswer `json:"station"`
			Record  app.RecordAnswer  `json:"record"`
			Kept    string            `json:"kept_in"`
		}{f.Station, described, kept})
	}
	s.printf("%s, %s", f.Station.ID, f.Station.Name)
	if f.Station.DistanceKM > 0 {
		s.printf(", %.0f km away, %s m above the sea", f.Station.DistanceKM, heightWords(f.Station.ElevM))
	}
	s.printf("\n%s to %s, %d minima and %d maxima missing, %d years with too many gaps\nkept in %s\n",
		described.From, described.To, described.MissingTmin, described.MissingTmax, len(described.LeftOut), kept)
	return nil
}
