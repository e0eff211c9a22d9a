package app

import (
	"context"
	"io"

	"haulm/internal/readings"
	"haulm/internal/store"
)

// takenWeather is every record kept in the file as it was given or fetched, and
// the hours kept beside it.
func (d *Desk) takenWeather() ([]taken, error) {
	if d.file == nil {
		return nil, nil
	}
	g, err := d.Garden()
	if err != nil {
		return nil, err
	}
	records, err := d.file.Records(context.Background())
	if err != nil {
		return nil, err
	}
	names := fileNames{}
	return append(d.takenRecords(records, names), d.takenHours(g.WeatherRef, records, names)...), nil
}

func (d *Desk) takenRecords(records []store.RecordInfo, names fileNames) []taken {
	about := "every record kept with the garden, as it was given or fetched, before it was brought to the garden’s height"
	var out []taken
	for _, info := range records {
		rec, err := d.file.LoadRecord(context.Background(), info.Name)
		if err != nil {
			out = append(out, unread("weather/"+names.of(info.Name, ""), err))
			continue
		}
		out = append(out, taken{"weather/" + names.of(info.Name, ".csv"), about, func(w io.Writer) error { return readings.WriteCSV(w, rec) }})
		about = "" // told once
	}
	return out
}

// takenHours are those beside every record and, in a garden that lives on an
// estimate, those beside that.
func (d *Desk) takenHours(weatherRef string, records []store.RecordInfo, names fileNames) []taken {
	besides := []string{weatherRef}
	for _, info := range records {
		if info.Name != weatherRef {
			besides = append(besides, info.Name)
		}
	}
	var out []taken
	for _, name := range besides {
		text, _, err := d.file.HoursText(context.Background(), name)
		if err != nil {
			out = append(out, unread("weather/"+names.of(name, "-hours"), err))
		} else if text != nil {
			out = append(out, takenText("weather/"+names.of(name, "-hours.csv"), "hours measured of late: temperature in °C, relative humidity in %, rain in mm, each hour named by its end", text))
		}
	}
	return out
}

// unread stands for what cannot be read any more: the rest is taken all the
// same.
func unread(name string, err error) taken {
	return takenText(name+"-unread.txt", "why a part of the weather could not be taken", []byte(err.Error()+"\n"))
}
