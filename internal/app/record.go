package app

import (
	"haulm/internal/calendar"
	"haulm/internal/readings"
	"haulm/internal/weather"
)

// RecordAnswer is what a record holds and what was wrong with it.
type RecordAnswer struct {
	Format        string          `json:"format"`
	Name          string          `json:"name"`
	From          calendar.Date   `json:"from"`
	To            calendar.Date   `json:"to"`
	Days          int             `json:"days"`
	LatDeg        float64         `json:"lat"`
	LonDeg        float64         `json:"lon"`
	ElevM         float64         `json:"elev_m"`
	HasSite       bool            `json:"site_in_record"`
	MissingTmin   int             `json:"missing_tmin"`
	MissingTmax   int             `json:"missing_tmax"`
	MissingRain   int             `json:"missing_rain"`
	LeftOut       []int           `json:"years_left_out"`
	FlagsFailed   int             `json:"flags_failed"`
	Duplicates    int             `json:"duplicates"`
	RejectedCount int             `json:"rejected"`
	Rejected      []RejectedValue `json:"rejected_lines"`
	Ignored       []string        `json:"columns_not_read"`
	Estimated     bool            `json:"estimated"`
	Source        string          `json:"source,omitempty"`
}

// RejectedValue is one value of a record that was left out.
type RejectedValue struct {
	Line int           `json:"line"`
	Date calendar.Date `json:"date"`
	What string        `json:"what"`
}

// DescribeRecord tells what a reader found. report is nil for a record that
// was not read from a file.
func DescribeRecord(rec *weather.Record, report *readings.Report, gaps weather.Gaps) RecordAnswer {
	a := RecordAnswer{
		Name: rec.Name, From: rec.Start, To: rec.End().Add(-1), Days: rec.Days(), Estimated: rec.Estimated, Source: rec.Source,
		LatDeg: rec.Site.LatDeg, LonDeg: rec.Site.LonDeg, ElevM: rec.Site.ElevM, LeftOut: gaps.LeftOut(), Rejected: []RejectedValue{},
	}
	a.MissingTmin, a.MissingTmax, a.MissingRain = gaps.Missing()
	if report == nil {
		return a
	}
	a.Format, a.HasSite, a.FlagsFailed, a.Duplicates = report.Format, report.HasSite, report.FlagsFailed, report.Duplicates
	a.RejectedCount, a.Ignored = report.RejectedCount, report.Ignored
	for _, line := range report.Rejected {
		a.Rejected = append(a.Rejected, RejectedValue{line.Line, line.Date, line.What})
	}
	return a
}
