package app

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/weather"
)

// OffsetAnswer is how much warmer a garden is than a station, with its
// standard error; null where it is not known.
type OffsetAnswer struct {
	C     *float64 `json:"c"`
	Error *float64 `json:"error"`
	Days  int      `json:"days"`
}

func offsetAnswer(o weather.Offset) OffsetAnswer {
	return OffsetAnswer{C: hundredth(o.C), Error: hundredth(o.Error), Days: o.Days}
}

// JoinAnswer is a fit of one's own thermometer against a station, and the long
// record shifted by it.
type JoinAnswer struct {
	Days      int            `json:"days"`
	TminYear  OffsetAnswer   `json:"tmin_year"`
	TmaxYear  OffsetAnswer   `json:"tmax_year"`
	Tmin      []OffsetAnswer `json:"tmin"` // January first
	Tmax      []OffsetAnswer `json:"tmax"`
	ClearTmin OffsetAnswer   `json:"tmin_clear_nights"`
	DullTmin  OffsetAnswer   `json:"tmin_dull_nights"`
	Sentence  string         `json:"sentence"`

	Record *weather.Record `json:"-"`
}

// JoinRecords fits a monthly offset of own against station and shifts the
// station's record by it.
func JoinRecords(own, station *weather.Record) (JoinAnswer, error) {
	fit, err := weather.FitJoin(own, station, weather.Priors())
	if err != nil {
		return JoinAnswer{}, err
	}
	rec, err := weather.Join(own, station, fit)
	if err != nil {
		return JoinAnswer{}, err
	}
	a := JoinAnswer{Days: fit.Days, TminYear: offsetAnswer(fit.TminYear), TmaxYear: offsetAnswer(fit.TmaxYear),
		ClearTmin: offsetAnswer(fit.ClearTmin), DullTmin: offsetAnswer(fit.DullTmin), Sentence: joinSentence(fit), Record: rec}
	for m := range fit.Tmin {
		a.Tmin = append(a.Tmin, offsetAnswer(fit.Tmin[m]))
		a.Tmax = append(a.Tmax, offsetAnswer(fit.Tmax[m]))
	}
	return a, nil
}

func joinSentence(f *weather.JoinFit) string {
	if f.ClearTmin.Days > 0 {
		return fmt.Sprintf("Your garden is %s on clear nights (%d of them), give or take %.1f °C.", warmth(f.ClearTmin.C), f.ClearTmin.Days, f.ClearTmin.Error)
	}
	return fmt.Sprintf("Your garden is %s by night over the year, give or take %.1f °C.", warmth(f.TminYear.C), f.TminYear.Error)
}

// warmth puts an offset in words.
func warmth(c float64) string {
	switch c = math.Round(c*10) / 10; {
	case c < 0:
		return fmt.Sprintf("%.1f °C colder", -c)
	case c > 0:
		return fmt.Sprintf("%.1f °C warmer", c)
	}
	return "neither colder nor warmer"
}

// NightsQuestion asks what a few nights say of a garden.
type NightsQuestion struct {
	Station *weather.Record
	Place   string   // kind of place; empty: open
	Nights  []string // 2027-04-12=-1.5, °C
}

// NightsAnswer is what is known of the garden's clear nights.
type NightsAnswer struct {
	Place    string        `json:"place"`
	Is       string        `json:"is"`
	Source   string        `json:"source"`
	Grade    string        `json:"grade"`
	Before   OffsetAnswer  `json:"before"`
	After    OffsetAnswer  `json:"after"` // as before where no night was given
	TmaxC    float64       `json:"tmax_c"`
	Nights   []NightAnswer `json:"nights"`
	Unknown  []string      `json:"nights_without_station,omitempty"`
	Sentence string        `json:"sentence"`

	Record *weather.Record `json:"-"` // the station's, shifted
}

// NightAnswer is one night.
type NightAnswer struct {
	Date     calendar.Date `json:"date"`
	TminC    float64       `json:"tmin_c"`
	StationC float64       `json:"station_c"`
	Clarity  *float64      `json:"clarity"` // 0 dull to 1 clear
}

// FitNights fits the garden's clear nights and shifts the station's record.
func FitNights(q NightsQuestion) (NightsAnswer, error) {
	if q.Place == "" {
		q.Place = weather.MicroPlaces()[0].Name
	}
	place, err := weather.FindMicroPlace(q.Place)
	if err != nil {
		return NightsAnswer{}, err
	}
	a := NightsAnswer{Place: place.Name, Is: place.Is, Source: place.Source, Grade: place.Grade, TmaxC: place.TmaxC,
		Before: offsetAnswer(place.ClearTmin), Nights: []NightAnswer{}}
	after := place.ClearTmin
	why := "a place of the kind " + place.Name + " (" + place.Source + ")"
	if len(q.Nights) > 0 {
		nights, err := parseNights(q.Nights)
		if err != nil {
			return NightsAnswer{}, err
		}
		fit, err := weather.FitNights(nights, q.Station, place.ClearTmin, weather.Priors())
		if err != nil {
			return NightsAnswer{}, err
		}
		after = fit.Offset
		why += fmt.Sprintf(" and %d nights of an own thermometer", len(fit.Used))
		for _, n := range fit.Used {
			a.Nights = append(a.Nights, NightAnswer{n.Date, n.TminC, n.StationC, tenth(n.Clarity)})
		}
		for _, d := range fit.Unknown {
			a.Unknown = append(a.Unknown, d.String())
		}
	}
	a.After = offsetAnswer(after)
	a.Sentence = fmt.Sprintf("Your garden is %s than the station on clear nights, give or take %.1f °C.", warmth(after.C), after.Error)
	a.Record = weather.ShiftNights(q.Station, after.C, place.TmaxC, weather.Priors(), why)
	return a, nil
}

// parseNights reads 2027-04-12=-1.5.
func parseNights(texts []string) ([]weather.Night, error) {
	var nights []weather.Night
	for _, text := range texts {
		date, temp, ok := strings.Cut(text, "=")
		d, err1 := calendar.Parse(strings.TrimSpace(date))
		c, err2 := strconv.ParseFloat(strings.TrimSpace(temp), 64)
		if !ok || err1 != nil || err2 != nil || math.IsNaN(c) || !weather.Limits[weather.Tmin].Possible(c) {
			return nil, fmt.Errorf("%q is no night; write its morning's date and its lowest temperature in °C, 2027-04-12=-1.5", text)
		}
		nights = append(nights, weather.Night{Date: d, TminC: c})
	}
	return nights, nil
}
