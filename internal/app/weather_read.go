package app

import (
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/readings"
	"haulm/internal/weather"
)

// ReadQuestion is what a person says of files that do not say all themselves.
type ReadQuestion struct {
	Files   []string
	Columns string // date=DATE,tmin_c=MinTemp,…; empty: the header says it
	Station string // which of several stations of a file
	Typical bool   // a typical year is wanted, as an estimate
	Today   calendar.Date
}

// ReadRecord reads a record from one file, or from one file an element.
func ReadRecord(q ReadQuestion) (*weather.Record, *readings.Report, error) {
	o := readings.Options{Today: q.Today}
	switch {
	case len(q.Files) == 0:
		return nil, nil, errors.New("name the file of a record")
	case len(q.Files) > 1:
		return readParts(q, o)
	case q.Columns != "":
		return readColumns(q, o)
	case q.Station != "" || q.Typical:
		return readChosen(q, o)
	}
	return readings.ReadFile(q.Files[0], o)
}

func openRecord(path string) (*os.File, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("weather record: %w", err)
	}
	return f, nil
}

func readParts(q ReadQuestion, o readings.Options) (*weather.Record, *readings.Report, error) {
	if q.Columns != "" || q.Station != "" || q.Typical {
		return nil, nil, errors.New("several files at once are files of one element each; --columns, --station and --typical go with one file")
	}
	var parts []readings.Part
	for _, path := range q.Files {
		f, err := openRecord(path)
		if err != nil {
			return nil, nil, err
		}
		defer f.Close()
		parts = append(parts, readings.Part{Name: filepath.Base(path), In: f})
	}
	return readings.ReadParts(parts, o)
}

func readColumns(q ReadQuestion, o readings.Options) (*weather.Record, *readings.Report, error) {
	columns, err := readings.ParseColumns(q.Columns)
	if err != nil {
		return nil, nil, fmt.Errorf("--columns: %w", err)
	}
	f, err := openRecord(q.Files[0])
	if err != nil {
		return nil, nil, err
	}
	defer f.Close()
	return readings.ReadColumns(f, filepath.Base(q.Files[0]), columns, o)
}

// readChosen reads one station of several, or a typical year.
func readChosen(q ReadQuestion, o readings.Options) (*weather.Record, *readings.Report, error) {
	name := filepath.Base(q.Files[0])
	f, err := openRecord(q.Files[0])
	if err != nil {
		return nil, nil, err
	}
	defer f.Close()
	hourly, report, err := readings.ReadHourly(f, name, readings.HourlyOptions{Options: o, Station: q.Station})
	if err == nil {
		rec, err := readings.Daily(hourly)
		return rec, report, err
	}
	if q.Typical {
		return nil, nil, err
	}
	if _, serr := f.Seek(0, io.SeekStart); serr != nil {
		return nil, nil, err
	}
	rec, report, sheetErr := readings.ReadSheet(f, name, q.Station, o)
	if errors.Is(sheetErr, readings.ErrNoSheet) {
		return nil, nil, err
	}
	return rec, report, sheetErr
}

// WriteRecord writes a record as plain CSV, packed where the path ends .gz. It
// never writes half a file over a whole one.
func WriteRecord(path string, rec *weather.Record) error {
	temp, err := os.CreateTemp(filepath.Dir(path), ".haulm-*")
	if err != nil {
		return fmt.Errorf("writing %s: %w", path, err)
	}
	defer os.Remove(temp.Name())
	err = writeCSV(temp, rec, strings.HasSuffix(path, ".gz"))
	err = errors.Join(err, temp.Chmod(0o644), temp.Close())
	if err == nil {
		err = os.Rename(temp.Name(), path)
	}
	if err != nil {
		return fmt.Errorf("writing %s: %w", path, err)
	}
	return nil
}

func writeCSV(w io.Writer, rec *weather.Record, packed bool) error {
	if !packed {
		return readings.WriteCSV(w, rec)
	}
	z := gzip.NewWriter(w)
	return errors.Join(readings.WriteCSV(z, rec), z.Close())
}

// MonthlyAnswer is a record held against a monthly series.
type MonthlyAnswer struct {
	Series    string           `json:"series"`
	Months    int              `json:"months"`
	TmaxC     DifferenceAnswer `json:"tmax_c"`
	TminC     DifferenceAnswer `json:"tmin_c"`
	FrostDays DifferenceAnswer `json:"frost_days"`
	RainMM    DifferenceAnswer `json:"rain_mm"`
	Worst     []string         `json:"worst_months"`
}

// DifferenceAnswer is record less series; null where nothing can be compared.
type DifferenceAnswer struct {
	Months int      `json:"months"`
	Mean   *float64 `json:"mean"`
	RMS    *float64 `json:"rms"`
}

// CheckMonthly holds a record against the monthly series in a file.
func CheckMonthly(rec *weather.Record, path string) (MonthlyAnswer, error) {
	f, err := os.Open(path)
	if err != nil {
		return MonthlyAnswer{}, fmt.Errorf("monthly series: %w", err)
	}
	defer f.Close()
	series, err := readings.ReadMonthly(f, filepath.Base(path))
	if err != nil {
		return MonthlyAnswer{}, err
	}
	c := readings.CheckMonthly(rec, series)
	if c.Months == 0 {
		return MonthlyAnswer{}, fmt.Errorf("%s and the record have no whole month in common; the record runs from %s to %s", filepath.Base(path), rec.Start, rec.End().Add(-1))
	}
	a := MonthlyAnswer{Series: series.Name, Months: c.Months, TmaxC: differenceAnswer(c.TmaxC), TminC: differenceAnswer(c.TminC),
		FrostDays: differenceAnswer(c.FrostDays), RainMM: differenceAnswer(c.RainMM)}
	for _, m := range c.Worst {
		a.Worst = append(a.Worst, fmt.Sprintf("%d-%02d: minimum %+.1f °C, maximum %+.1f °C", m.Year, int(m.Month), m.TminC, m.TmaxC))
	}
	return a, nil
}

func differenceAnswer(d readings.Difference) DifferenceAnswer {
	return DifferenceAnswer{Months: d.Months, Mean: hundredth(d.Mean), RMS: hundredth(d.RMS)}
}
