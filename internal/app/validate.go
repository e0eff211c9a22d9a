package app

import (
	"fmt"
	"os"
	"path/filepath"

	"haulm/internal/crop"
	"haulm/internal/trial"
	"haulm/internal/weather"
)

// Validate grows the published trials of the shared reference folder and
// gathers the report on them.
func Validate(shared string, catalogue *crop.Catalogue) (*trial.Report, error) {
	if _, err := os.Stat(filepath.Join(shared, "reference", "models", "phenology_benchmarks.csv")); err != nil {
		return nil, fmt.Errorf("the published trials are not in %s: give the folder that holds reference/models/phenology_benchmarks.csv with --shared", shared)
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

// trialCases are the rows with what they are of ours and the weather they had.
func trialCases(shared string, w *trialWeather, catalogue *crop.Catalogue) ([]trial.Case, error) {
	file, err := os.Open(filepath.Join(shared, "reference", "models", "phenology_benchmarks.csv"))
	if err != nil {
		return nil, err
	}
	defer file.Close()
	rows, err := trial.ReadRows(file)
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
	file, err := os.Open(filepath.Join(w.shared, "reference", "crops", "raw", "days_to_maturity_ndsu_h912.csv"))
	if err != nil {
		return nil, err
	}
	defer file.Close()
	list, err := trial.ReadMaturity(file)
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
