package app

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"

	"haulm/internal/diary"
	"haulm/internal/garden"
	"haulm/internal/readings"
)

// taken is one file of what a household takes away.
type taken struct {
	name  string // with slashes between folders
	about string // one line for the list of contents; "" = told with another
	write func(io.Writer) error
}

// takenText is a file whose text is at hand.
func takenText(name, about string, text []byte) taken {
	return taken{name, about, func(w io.Writer) error {
		_, err := w.Write(text)
		return err
	}}
}

// everything is all that the garden's file holds of a household's own, as
// plain files: what Haulm reckoned from it can be reckoned again, and phones
// that were paired are nobody's data. A photo is read when it is written.
func (d *Desk) everything() ([]taken, error) {
	var out []taken
	for _, gather := range []func() ([]taken, error){d.takenGarden, d.takenDiary, d.takenPlans, d.takenYears, d.takenWeather, d.takenEarlier} {
		files, err := gather()
		if err != nil {
			return nil, err
		}
		out = append(out, files...)
	}
	return append([]taken{takenText("README.txt", "", contents(out))}, out...), nil
}

// takenGarden is the garden, and the weather that it grows in where that is no
// estimate, so that ImportGarden makes the same garden again.
func (d *Desk) takenGarden() ([]taken, error) {
	g, err := d.Garden()
	if err != nil {
		return nil, err
	}
	const weatherFile = "weather.csv"
	out, files := *g, []taken(nil)
	switch rec, err := d.ownRecord(g); {
	case err != nil:
		files = []taken{unread("weather", err)}
	case rec != nil:
		out.WeatherRef = weatherFile
		files = []taken{{weatherFile, "the days of weather that the garden grows in: temperatures in °C, rain in mm, sun in MJ/m² a day, wind in m/s",
			func(to io.Writer) error { return readings.WriteCSV(to, rec) }}}
	}
	var text bytes.Buffer
	if err := garden.Write(&text, &out); err != nil {
		return nil, err
	}
	return append([]taken{takenText("garden.toml", "the garden: places, table, what stands, what lies in store; haulm import garden.toml reads it", text.Bytes())}, files...), nil
}

// takenDiary is the diary as a table, and its photos.
func (d *Desk) takenDiary() ([]taken, error) {
	rows, err := d.diaryRows()
	if err != nil || len(rows) == 0 {
		return nil, err
	}
	out := []taken{{"diary.csv", diaryAbout, func(w io.Writer) error { return diary.WriteCSV(w, rows, d.cropName) }}}
	for _, r := range rows {
		if r.PhotoFile == "" {
			continue
		}
		out = append(out, taken{r.PhotoFile, "", func(w io.Writer) error {
			_, picture, err := d.Photo(r.ID)
			if err == nil {
				_, err = w.Write(picture)
			}
			return err
		}})
	}
	return out, nil
}

const diaryAbout = "the diary, a line each: its number, the day, what was done, the amount in the unit as it was noted " +
	"(g, kg, oz, lb, count, % of the plants, basin, l, gal, can, min of hose, mm, in, °C, °F), the crop by its key and name, the place, " +
	"the planting that it speaks of (crop/route/place/cm from the end/day begun, or noted/ and the number of the line that began it), " +
	"what a loss was to, free words, the file of the photo; haulm import diary.csv reads it. " + spreadsheetAbout

// spreadsheetAbout is told with tables of a household's own words.
const spreadsheetAbout = "Where words begin with =, +, - or @ a ' stands before them, so that no spreadsheet takes them for a sum"

// diaryRows is the diary as a table, each line with the name of its photo.
func (d *Desk) diaryRows() ([]diary.Row, error) {
	lines, err := d.Diary()
	if err != nil {
		return nil, err
	}
	mimes := map[int64]string{}
	if d.file != nil {
		if mimes, err = d.file.PhotoMimes(context.Background()); err != nil {
			return nil, err
		}
	}
	var rows []diary.Row
	for _, line := range lines {
		r := diary.Row{Entry: line.Entry, Linked: true}
		if line.Photo {
			r.PhotoFile = photosFolder + "/" + photoName(line.Entry, mimes[line.ID])
		}
		rows = append(rows, r)
	}
	return rows, nil
}

const photosFolder = "photos"

// WriteDiary writes the diary alone as a table, without its photos.
func (d *Desk) WriteDiary(w io.Writer) error {
	rows, err := d.diaryRows()
	if err != nil {
		return err
	}
	for i := range rows {
		rows[i].PhotoFile = ""
	}
	return diary.WriteCSV(w, rows, d.cropName)
}

// takenEarlier is the garden as it was before each of its last changes.
func (d *Desk) takenEarlier() ([]taken, error) {
	if d.file == nil {
		return nil, nil
	}
	ctx := context.Background()
	revisions, err := d.file.Revisions(ctx)
	if err != nil {
		return nil, err
	}
	var out []taken
	for _, r := range revisions {
		g, err := d.file.RevisionGarden(ctx, r.ID)
		if err != nil {
			continue // an earlier state that cannot be read keeps nothing back
		}
		var text bytes.Buffer
		if err := garden.Write(&text, g); err != nil {
			return nil, err
		}
		out = append(out, takenText(fmt.Sprintf("earlier-gardens/%s-%d.toml", r.ReplacedAt.Format("2006-01-02"), r.ID), "", text.Bytes()))
	}
	if len(out) > 0 {
		out[0].about = "the garden as it was before each of its last changes, named by the day of the change"
	}
	return out, nil
}

// errNothingTaken is what an export of everything without a name gives.
var errNothingTaken = errors.New("everything goes into a folder or a .zip file: name it, as in haulm export --all mine.zip")
