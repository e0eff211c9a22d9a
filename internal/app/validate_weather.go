package app

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"math"

	"haulm/internal/crop"
	"haulm/internal/fetch"
	"haulm/internal/grow"
	"haulm/internal/readings"
	"haulm/internal/trial"
	"haulm/internal/weather"
)

// trialWeather finds the weather that a trial is grown through: its own, else
// a record from nearby that has its days, else an estimate.
type trialWeather struct {
	shared    string
	rules     crop.Constants
	stations  trial.Stations
	normals   []normalsAt
	fromDaily map[string]*weather.Record
	estimates map[weather.Site]trial.Weather
}

// dailyRecord is a record of the shared folder that may lie near a trial.
type dailyRecord struct {
	name, file, header string // header replaces one that carries no units
	site               weather.Site
}

var dailyRecords = []dailyRecord{
	{"Albany NY", "USW00014735_albany-ny.csv.gz", "year,month,day,tmax_c,tmin_c,rain_mm,SNOW,SNWD", weather.Site{LatDeg: 42.748, LonDeg: -73.803, ElevM: 85}},
	{"Griffin GA", "US_GAGR9626_griffin-ga.wth.gz", "", weather.Site{LatDeg: 33.264, LonDeg: -84.284, ElevM: 282}},
	{"Vancouver BC", "CA_1108447_vancouver-intl-bc.csv.gz", "", weather.Site{LatDeg: 49.195, LonDeg: -123.18, ElevM: 4}},
	{"Melbourne airport", "AU_bom_melbourneairport_2007-2026.csv.gz", "", weather.Site{LatDeg: -37.666, LonDeg: 144.832, ElevM: 113}},
}

// A record speaks for a trial within these bounds (project choice).
const (
	nearKM      = 100.0
	nearHeightM = 200.0
)

func openTrialWeather(shared string, rules crop.Constants) (*trialWeather, error) {
	w := &trialWeather{shared: shared, rules: rules, fromDaily: map[string]*weather.Record{}, estimates: map[weather.Site]trial.Weather{}}
	var err error
	if w.stations, err = readShared(shared, "reference/models/phenology_weather.csv", trial.ReadStations); err != nil {
		return nil, err
	}
	w.normals, err = stationNormals(shared)
	return w, err
}

// For is the best weather there is for a row.
func (w *trialWeather) For(row trial.Row) (trial.Weather, error) {
	if rec := w.stations.For(row); rec != nil {
		return trial.Weather{Climate: grow.NewClimate(rec, w.rules), Words: rec.Station, Kind: trial.AtTheTrial}, nil
	}
	rec, words, err := w.nearby(row)
	if err != nil {
		return trial.Weather{}, err
	}
	if rec != nil {
		return trial.Weather{Climate: grow.NewClimate(rec, w.rules), Words: words, Kind: trial.Nearby}, nil
	}
	return w.estimate(row)
}

func (w *trialWeather) nearby(row trial.Row) (*weather.Record, string, error) {
	for _, daily := range dailyRecords {
		km := fetch.DistanceKM(daily.site, row.Site)
		if km > nearKM || math.Abs(daily.site.ElevM-row.Site.ElevM) > nearHeightM {
			continue
		}
		rec, err := w.daily(daily)
		if err != nil {
			return nil, "", err
		}
		day := row.Sown
		if !day.Known() {
			day = row.SetOut
		}
		if day-60 > rec.Start && day+400 < rec.End() {
			return rec, fmt.Sprintf("%s, %.0f km", daily.name, km), nil
		}
	}
	return nil, "", nil
}

func (w *trialWeather) daily(d dailyRecord) (*weather.Record, error) {
	if rec := w.fromDaily[d.file]; rec != nil {
		return rec, nil
	}
	text, err := readShared(w.shared, dailyFolder+d.file, unpacked)
	if err != nil {
		return nil, err
	}
	if d.header != "" {
		_, rest, _ := bytes.Cut(text, []byte("\n"))
		text = append([]byte(d.header+"\n"), rest...)
	}
	rec, _, err := readings.Read(bytes.NewReader(text), d.file)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", d.file, err)
	}
	rec.Site = d.site
	mended, _ := weather.Fill(rec, weather.WMORules())
	w.fromDaily[d.file] = mended
	return mended, nil
}

// dailyFolder is where the shared folder keeps daily records.
const dailyFolder = "data/weather/daily/"

// unpacked is what a gzip file holds.
func unpacked(from io.Reader) ([]byte, error) {
	reader, err := gzip.NewReader(from)
	if err != nil {
		return nil, err
	}
	return io.ReadAll(reader)
}
