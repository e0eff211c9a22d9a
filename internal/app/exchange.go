package app

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"haulm/internal/garden"
	"haulm/internal/normals"
	"haulm/internal/readings"
	"haulm/internal/weather"
)

// ImportGarden takes a garden from a TOML file, and the weather record that it
// names from the file of that name beside it. The report is that of the
// record's reader, nil where none was read. Nothing is kept unless all of it
// is sound.
func ImportGarden(d *Desk, path string) (*readings.Report, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("garden: %w", err)
	}
	defer file.Close()
	g, err := garden.Parse(file)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	if err := CheckGarden(g, d.Catalogue); err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	if g.WeatherRef == EstimateRef {
		return nil, d.SaveGarden(g)
	}
	if strings.HasPrefix(g.WeatherRef, builtInPrefix) {
		if _, err := normals.BuiltIn(strings.TrimPrefix(g.WeatherRef, builtInPrefix)); err != nil {
			return nil, fmt.Errorf("%s: %w", path, err)
		}
		return nil, d.SaveGarden(g)
	}
	beside := filepath.Join(filepath.Dir(path), filepath.FromSlash(g.WeatherRef))
	if filepath.IsAbs(g.WeatherRef) {
		beside = g.WeatherRef
	}
	rec, report, err := readings.ReadFile(beside, readings.Options{Today: d.Today()})
	if err != nil {
		return nil, fmt.Errorf("%s names the weather record %q: %w", path, g.WeatherRef, err)
	}
	g.WeatherRef = filepath.Base(beside)
	if err := d.SaveRecord(g.WeatherRef, rec); err != nil {
		return nil, err
	}
	return report, d.SaveGarden(g)
}

// WriteGarden writes the garden alone as TOML.
func WriteGarden(w io.Writer, d *Desk) error {
	g, err := d.Garden()
	if err != nil {
		return err
	}
	return garden.Write(w, g)
}

// ExportGarden writes the garden as TOML to path and its weather record beside
// it as plain CSV, so that ImportGarden makes the same garden again, and the
// diary's photos into a folder. It returns what was written. A file that is
// already there is not written over.
func ExportGarden(d *Desk, path string) ([]string, error) {
	g, err := d.Garden()
	if err != nil {
		return nil, err
	}
	out := *g
	var written []string
	rec, err := d.ownRecord(g)
	if err != nil {
		return nil, err
	}
	if rec != nil {
		name := strings.TrimSuffix(filepath.Base(path), filepath.Ext(path)) + "-weather.csv"
		beside := filepath.Join(filepath.Dir(path), name)
		var csv bytes.Buffer
		if err := readings.WriteCSV(&csv, rec); err != nil {
			return nil, err
		}
		if err := writeNew(beside, csv.Bytes()); err != nil {
			return nil, err
		}
		out.WeatherRef, written = name, append(written, beside)
	}
	var text bytes.Buffer
	if err := garden.Write(&text, &out); err != nil {
		return written, err
	}
	if err := writeNew(path, text.Bytes()); err != nil {
		return written, err
	}
	photos, err := d.exportPhotos(path)
	return append(append(written, path), photos...), err
}

// ownRecord is the record that the garden grows in, to be taken elsewhere; nil
// for an estimate and for a climate that is built in. It is brought to the
// garden, since under its new name nobody would know it for a station's.
func (d *Desk) ownRecord(g *garden.Garden) (*weather.Record, error) {
	if strings.HasPrefix(g.WeatherRef, builtInPrefix) {
		return nil, nil
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	rec, err := d.record()
	if err != nil {
		return nil, err
	}
	toGarden(rec, g.WeatherRef, g.Site)
	return rec, nil
}

// writeNew writes a file that must not be there yet.
func writeNew(path string, text []byte) error {
	file, err := createNew(path)
	if err != nil {
		return err
	}
	if _, err := file.Write(text); err != nil {
		file.Close()
		return fmt.Errorf("export: %w", err)
	}
	return file.Close()
}

// createNew makes a file that must not be there yet.
func createNew(path string) (*os.File, error) {
	file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, os.ErrExist) {
		return nil, thereAlready(path)
	}
	if err != nil {
		return nil, fmt.Errorf("export: %w", err)
	}
	return file, nil
}

func thereAlready(path string) error {
	return fmt.Errorf("%s is there already and is not written over: choose another name", path)
}
