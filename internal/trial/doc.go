// Package trial holds the growth model against published field trials: what
// was sown or set out where and when, when it came up, and when it was picked.
// It grows each trial's planting through the weather it is handed, compares the
// dates, fits the few factors that the trials may set, reports only on rows
// that took no part in the fit, and writes the report as Markdown.
//
// It opens no file and knows no station by itself: rows, weather and catalogue
// are handed in.
//
// Read row.go first, then subject.go (how a published crop is read as one of
// ours), outcome.go, score.go, fit.go and report.go; frame.go, handbook.go and
// thermometer.go hold the model against what is not a trial.
package trial
