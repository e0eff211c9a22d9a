package app

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/fetch"
	"haulm/internal/forecast"
	"haulm/internal/readings"
	"haulm/internal/weather"
)

// NetworkOptions are what a person says of how the network is to be used.
type NetworkOptions struct {
	Contact         string // a mail address or page of theirs, for the services
	NCEI, METNorway string // other addresses of the same files; empty: the services' own
	Folder          string // where copies are kept; empty: the system's place for such
	Progress        func(fetch.Progress)
	Now             func() time.Time
}

// Network makes the client that asks the services. It asks nothing yet.
func Network(o NetworkOptions) (*fetch.Client, error) {
	if o.Folder == "" {
		base, err := os.UserCacheDir()
		if err != nil {
			return nil, fmt.Errorf("there is no place to keep copies of what is fetched: %w", err)
		}
		o.Folder = filepath.Join(base, "haulm")
	}
	return fetch.New(fetch.Options{
		Folder: o.Folder, Contact: o.Contact, NCEI: o.NCEI, METNorway: o.METNorway, Progress: o.Progress, Now: o.Now,
	}), nil
}

// StationQuestion asks for stations near a place, or for one by its identifier.
type StationQuestion struct {
	Site      weather.Site
	HasHeight bool   // Site.ElevM is known
	Station   string // empty: the most useful near Site
	Count     int    // how many to list
	Year      int    // this year
}

func (q StationQuestion) wanted() fetch.Wanted {
	return fetch.Wanted{Site: q.Site, HasHeight: q.HasHeight, Year: q.Year, Count: max(q.Count, 1)}
}

// StationAnswer is a station that could serve a garden.
type StationAnswer struct {
	ID         string   `json:"id"`
	Name       string   `json:"name"`
	LatDeg     float64  `json:"lat"`
	LonDeg     float64  `json:"lon"`
	ElevM      *float64 `json:"elev_m"`
	DistanceKM float64  `json:"distance_km"`
	First      int      `json:"first_year"`
	Last       int      `json:"last_year"`
	Rain       bool     `json:"rain"`
}

func stationAnswer(s fetch.Station) StationAnswer {
	a := StationAnswer{ID: s.ID, Name: s.Name, LatDeg: s.Site.LatDeg, LonDeg: s.Site.LonDeg, DistanceKM: math.Round(s.DistanceKM*10) / 10, First: s.First, Last: s.Last, Rain: s.RainFirst > 0}
	if s.HasHeight {
		a.ElevM = &s.Site.ElevM
	}
	return a
}

// Stations lists the stations most useful for a place, best first.
func Stations(ctx context.Context, client *fetch.Client, q StationQuestion) ([]StationAnswer, error) {
	if err := checkPlace(q.Site); err != nil {
		return nil, err
	}
	found, err := client.Nearest(ctx, q.wanted())
	if err != nil {
		return nil, err
	}
	var out []StationAnswer
	for _, s := range found {
		out = append(out, stationAnswer(s))
	}
	return out, nil
}

// Fetched is a station's record as it came.
type Fetched struct {
	Station StationAnswer
	Record  *weather.Record
	Report  *readings.Report
	Stale   error // why an old copy stands in; nil where it need not
}

// FetchRecord fetches the record of the station asked for, or of the most
// useful one near the place.
func FetchRecord(ctx context.Context, client *fetch.Client, q StationQuestion) (*Fetched, error) {
	station, err := chooseStation(ctx, client, q)
	if err != nil {
		return nil, err
	}
	rec, report, held, err := client.Record(ctx, station)
	if err != nil {
		return nil, err
	}
	if station.First == 0 {
		station.First, station.Last = rec.Start.Year(), rec.End().Add(-1).Year()
		if rec.HasRain() {
			station.RainFirst, station.RainLast = station.First, station.Last
		}
	}
	return &Fetched{Station: stationAnswer(station), Record: rec, Report: report, Stale: held.Stale}, nil
}

func chooseStation(ctx context.Context, client *fetch.Client, q StationQuestion) (fetch.Station, error) {
	if q.Station != "" {
		s, err := client.Station(ctx, q.Station)
		if err == nil && q.Site != (weather.Site{}) {
			s.DistanceKM = fetch.DistanceKM(q.Site, s.Site)
		}
		return s, err
	}
	if err := checkPlace(q.Site); err != nil {
		return fetch.Station{}, err
	}
	found, err := client.Nearest(ctx, q.wanted())
	if err != nil {
		return fetch.Station{}, err
	}
	return found[0], nil
}

// KeepRecord keeps a record with the garden and lets the garden grow in it.
// The reference is what it is kept under. Where there is no garden yet, the
// record alone is kept.
func (d *Desk) KeepRecord(ref string, rec *weather.Record) error {
	if err := d.SaveRecord(ref, rec); err != nil {
		return err
	}
	g, err := d.Garden()
	if errors.Is(err, ErrNoGarden) {
		return nil
	}
	if err != nil {
		return err
	}
	changed := *g
	changed.WeatherRef = ref
	if err := d.SaveGarden(&changed); err != nil {
		return err
	}
	d.forgetWeather()
	return nil
}

// forgetWeather lets the record be made ready again, also where another one
// took the place of one of its name.
func (d *Desk) forgetWeather() {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.weather, d.planned = nil, nil
}

// ForecastAnswer is the forecast for a place.
type ForecastAnswer struct {
	Source     string              `json:"source"`
	Made       time.Time           `json:"made"`
	Fetched    time.Time           `json:"fetched"`
	Expires    time.Time           `json:"expires"`
	Asked      bool                `json:"asked"` // the service was asked just now
	Stale      string              `json:"stale,omitempty"`
	Deprecated bool                `json:"deprecated,omitempty"`
	Days       []ForecastDayAnswer `json:"days"`

	Forecast *forecast.Forecast `json:"-"` // with its hours
}

// ForecastDayAnswer is one day; null is not known.
type ForecastDayAnswer struct {
	Date       calendar.Date `json:"date"`
	TminC      *float64      `json:"tmin_c"`
	TmaxC      *float64      `json:"tmax_c"`
	RainMM     *float64      `json:"rain_mm"`
	WindMS     *float64      `json:"wind_ms"`
	HumidityPC *float64      `json:"humidity_pc"`
	Whole      bool          `json:"whole"`      // from midnight to midnight
	StepHours  float64       `json:"step_hours"` // longest time between two temperatures
}

// FetchForecast gives the forecast for a place, its days those of zone. The
// service is asked only if its last answer has expired.
func FetchForecast(ctx context.Context, client *fetch.Client, site weather.Site, hasHeight bool, zone *time.Location) (ForecastAnswer, error) {
	f, err := client.Forecast(ctx, site, hasHeight, zone)
	if err != nil {
		return ForecastAnswer{}, err
	}
	a := ForecastAnswer{Source: f.Source, Made: f.Made, Fetched: f.Fetched, Expires: f.Expires, Asked: f.Asked, Deprecated: f.Deprecated, Forecast: f.Forecast}
	if f.Stale != nil {
		a.Stale = f.Stale.Error()
	}
	for _, d := range f.Days {
		a.Days = append(a.Days, ForecastDayAnswer{
			Date: d.Date, TminC: tenth(d.TminC), TmaxC: tenth(d.TmaxC), RainMM: tenth(d.RainMM), WindMS: tenth(d.WindMS),
			HumidityPC: tenth(d.HumidityPC), Whole: d.Whole(), StepHours: d.StepHours,
		})
	}
	return a, nil
}

// tenth rounds to a tenth; nil is not known.
func tenth(x float64) *float64 { return rounded(x, 10) }

// hundredth rounds to a hundredth; nil is not known.
func hundredth(x float64) *float64 { return rounded(x, 100) }

func rounded(x, parts float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	x = math.Round(x*parts)/parts + 0
	return &x
}
