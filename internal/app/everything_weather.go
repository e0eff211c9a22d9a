package app

import (
	"context"
	"io"

	"haulm/internal/readings"
)

// takenWeather is every record kept in the file as it was given or fetched, and
// the hours kept beside it.
func (d *Desk) takenWeather() ([]taken, error) {
	if d.file == nil {
		return nil, nil
	}
	ctx := context.Background()
	records, err := d.file.Records(ctx)
	if err != nil {
		return nil, err
	}
	g, err := d.Garden()
	if err != nil {
		return nil, err
	}
	names := newFileNames()
	var out []taken
	hours := []string{}
	for _, info := range records {
		name := "weather/" + names.of(info.Name)
		hours = append(hours, info.Name)
		rec, err := d.file.LoadRecord(ctx, info.Name)
		if err != nil {
			out = append(out, unread(name, err))
			continue
		}
		out = append(out, taken{name + ".csv", "", func(w io.Writer) error { return readings.WriteCSV(w, rec) }})
	}
	if len(out) > 0 && out[0].about == "" {
		out[0].about = "every record kept with the garden, as it was given or fetched, before it was brought to the garden’s height"
	}
	if _, named := names.given[g.WeatherRef]; !named {
		hours = append(hours, g.WeatherRef)
	}
	for _, name := range hours {
		text, _, err := d.file.HoursText(ctx, name)
		if err != nil {
			out = append(out, unread("weather/"+names.of(name)+"-hours", err))
		} else if text != nil {
			out = append(out, takenText("weather/"+names.of(name)+"-hours.csv", "hours measured of late: temperature in °C, relative humidity in %, rain in mm, each hour named by its end", text))
		}
	}
	return out, nil
}

// unread stands for what cannot be read any more: the rest is taken all the
// same.
func unread(name string, err error) taken {
	return takenText(name+"-unread.txt", "why a part of the weather could not be taken", []byte(err.Error()+"\n"))
}
