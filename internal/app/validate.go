package app

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"haulm/internal/crop"
	"haulm/internal/trial"
	"haulm/internal/weather"
)

// trialRows is where the published trials stand in the shared reference folder.
const trialRows = "reference/models/phenology_benchmarks.csv"

// Validate grows the published trials of the shared reference folder and
// gathers the report on them.
func Validate(shared string, catalogue *crop.Catalogue) (*trial.Report, error) {
	if _, err := os.Stat(filepath.Join(shared, trialRows)); err != nil {
		return nil, fmt.Errorf("the published trials are not in %s: give the folder that holds %s with --shared", shared, trialRows)
	}
	w, err := openTrialWeather(shared, catalogue.Constants)
	if err != nil {
		return nil, fmt.Errorf("shared folder %s: %w", shared, err)
	}
	cases, err := trialCases(shared, w, catalogue)
	if err != nil {
		return nil, err
	}
	report := &trial.Report{}
	if report.Groups, err = trial.Groups(); err != nil {
		return nil, err
	}
	if report.Outcomes, err = trial.OutOfFold(cases, report.Groups); err != nil {
		return nil, err
	}
	for _, g := range report.Groups {
		factor, err := g.Fit(cases)
		if err != nil {
			return nil, err
		}
		report.Refitted = append(report.Refitted, factor)
	}
	if report.Seedbed, err = seedbeds(shared); err != nil {
		return nil, err
	}
	if report.Handbook, err = handbook(shared, catalogue); err != nil {
		return nil, err
	}
	if report.Maturity, err = w.maturity(catalogue); err != nil {
		return nil, err
	}
	report.Stages, err = w.stages(catalogue)
	return report, err
}

// readShared reads a file of the shared folder, named with slashes.
func readShared[T any](shared, name string, read func(io.Reader) (T, error)) (content T, err error) {
	file, err := os.Open(filepath.Join(shared, filepath.FromSlash(name)))
	if err != nil {
		return content, err
	}
	defer file.Close()
	if content, err = read(file); err != nil {
		return content, fmt.Errorf("%s: %w", name, err)
	}
	return content, nil
}

// trialCases are the rows with what they are of ours and the weather they had.
func trialCases(shared string, w *trialWeather, catalogue *crop.Catalogue) ([]trial.Case, error) {
	rows, err := readShared(shared, trialRows, trial.ReadRows)
	if err != nil {
		return nil, err
	}
	var cases []trial.Case
	for _, row := range rows {
		subject, err := trial.Read(row, catalogue)
		if err != nil {
			return nil, err
		}
		seen, err := w.For(row)
		if err != nil {
			return nil, err
		}
		cases = append(cases, trial.Case{Row: row, Subject: subject, Weather: seen})
	}
	return cases, nil
}

// fargo stands for North Dakota.
var fargo = weather.Site{LatDeg: 46.9, LonDeg: -96.8, ElevM: 274}

func (w *trialWeather) maturity(catalogue *crop.Catalogue) ([]trial.Framed, error) {
	list, err := readShared(w.shared, "reference/crops/raw/days_to_maturity_ndsu_h912.csv", trial.ReadMaturity)
	if err != nil {
		return nil, err
	}
	seen, err := w.estimateAt(fargo)
	if err != nil {
		return nil, err
	}
	return trial.FrameMaturity(list, seen, catalogue)
}

// stages grows the crops of FAO-56 Table 11 at the places that stand for its
// regions.
func (w *trialWeather) stages(catalogue *crop.Catalogue) ([]trial.Framed, error) {
	list, err := trial.Stages()
	if err != nil {
		return nil, err
	}
	var framed []trial.Framed
	for _, stage := range list {
		seen, err := w.estimateAt(stage.Site)
		if err != nil {
			return nil, err
		}
		f, err := trial.FrameStages(stage, seen, catalogue)
		if err != nil {
			return nil, err
		}
		framed = append(framed, f)
	}
	return framed, nil
}
