package web

import (
	"math"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/forecast"
	"haulm/internal/unit"
)

func TestForecastDaysInWords(t *testing.T) {
	today := calendar.On(2027, 5, 14)
	days := []forecast.Day{
		{Date: today.Add(-1), TminC: -9, TmaxC: 3, RainMM: 1, Hours: 24},
		{Date: today, TminC: 4.4, TmaxC: 15.5, RainMM: 0, Hours: 16},
		{Date: today.Add(1), TminC: -2.5, TmaxC: 12, RainMM: math.NaN(), Hours: 24},
		{Date: today.Add(2), TminC: math.NaN(), TmaxC: math.NaN(), RainMM: 6, Hours: 24},
	}
	want := []forecastDay{
		{"Fri 14 May, in part", "4.4 °C", "15.5 °C", "0 mm", false},
		{"Sat 15 May", "−2.5 °C", "12 °C", "–", true},
		{"Sun 16 May", "–", "–", "6 mm", false},
	}
	got := forecastDays(days, today, unit.Metric)
	if len(got) != len(want) {
		t.Fatalf("%d days: %+v", len(got), got)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("%+v, want %+v", got[i], want[i])
		}
	}
	if got := coldest(days, today, unit.Metric); got != "−2.5 °C on Saturday 15 May" {
		t.Errorf("the coldest: %q", got)
	}
	if got := coldest(days, today, unit.Imperial); got != "27 °F on Saturday 15 May" && got != "28 °F on Saturday 15 May" {
		t.Errorf("the coldest in °F: %q", got)
	}
	if got := coldest(days[3:], today, unit.Metric); got != "" {
		t.Errorf("the coldest of nothing known: %q", got)
	}
	if got := coldest(days[:1], today, unit.Metric); got != "" {
		t.Errorf("what is past is told as ahead: %q", got)
	}
}
