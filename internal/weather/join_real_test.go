package weather_test

import (
	"bytes"
	"math"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/readings"
	"haulm/internal/sharedfolder"
	"haulm/internal/weather"
)

// TestJoin_PhoenixPark: a station two months long beside Dublin Airport, 8 km
// away, against the offset of its whole year (Met Éireann, hourly, 2017).
func TestJoin_PhoenixPark(t *testing.T) {
	day := func(name string) *weather.Record {
		h, _, err := readings.ReadHourly(bytes.NewReader(sharedfolder.Bytes(t, "data/weather/hourly/IE_2017_25stations_hourly.csv.gz")), name, readings.HourlyOptions{Station: name})
		if err != nil {
			t.Fatal(err)
		}
		rec, err := readings.Daily(h)
		if err != nil {
			t.Fatal(err)
		}
		return rec
	}
	park, airport := day("PHOENIX PARK"), day("DUBLIN AIRPORT")
	whole, err := weather.FitJoin(park, airport, weather.Priors())
	if err != nil {
		t.Fatal(err)
	}
	spring := park.Between(calendar.On(2017, 4, 1), calendar.On(2017, 6, 1))
	short, err := weather.FitJoin(spring, airport, weather.Priors())
	if err != nil {
		t.Fatal(err)
	}
	for m := range 12 {
		got, want := short.Tmin[m], whole.Tmin[m]
		if math.Abs(got.C-want.C) > 2.5*math.Hypot(got.Error, want.Error) {
			t.Errorf("month %d: %+v from two months, %+v from twelve", m+1, got, want)
		}
	}
	if short.TminYear.Error <= whole.TminYear.Error {
		t.Errorf("two months are surer (%.2f) than twelve (%.2f)", short.TminYear.Error, whole.TminYear.Error)
	}
}
