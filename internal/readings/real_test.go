package readings

import (
	"math"
	"os"
	"strings"
	"testing"

	"haulm/internal/sharedfolder"
	"haulm/internal/weather"
)

func hourlyFile(t testing.TB, name string) *os.File { return sharedFile(t, "hourly", name) }

func sharedFile(t testing.TB, folder, name string) *os.File {
	t.Helper()
	f, err := os.Open(sharedfolder.Path(t, "data", "weather", folder, name))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

// TestHourlyDays_DublinAirport2017: the days made of Met Éireann's hours are
// those of its daily record. Rain agrees to the last digit, which shows that
// an hour is named by its end and the service's day runs from 0 to 24 UTC. The
// extremes of hourly readings lie inside those of the thermometer's, by 0.35
// and 0.42 °C on average here; they are not corrected.
func TestHourlyDays_DublinAirport2017(t *testing.T) {
	h, report, err := ReadHourly(hourlyFile(t, "IE_2017_25stations_hourly.csv.gz"), "hours", HourlyOptions{Station: "dublin airport"})
	if err != nil {
		t.Fatal(err)
	}
	days, err := Daily(h)
	if err != nil || days.Days() != 365 || days.Start.String() != "2017-01-01" || report.Duplicates != 0 || days.Estimated {
		t.Fatalf("%v, %d days from %s, %+v", err, days.Days(), days.Start, report)
	}
	service, _ := record(t, "IE_dly532_dublin-airport.csv.gz")
	var low, high, wet, windy tally
	for i := range days.Days() {
		j, _ := service.Index(days.Start.Add(i))
		low.add(days.TminC[i] - service.TminC[j])
		high.add(days.TmaxC[i] - service.TmaxC[j])
		wet.add(days.RainMM[i] - service.RainMM[j])
		windy.add(days.WindMS[i] - service.WindMS[j])
	}
	for _, c := range []struct {
		what          string
		got           Difference
		from, to, rms float64
	}{
		{"minimum", low.difference(), 0, 0.5, 0.6}, {"maximum", high.difference(), -0.5, 0, 0.6},
		{"rain", wet.difference(), -0.001, 0.001, 0.05}, {"wind", windy.difference(), -0.01, 0.01, 0.05},
	} {
		if c.got.Months != 365 || c.got.Mean < c.from || c.got.Mean > c.to || c.got.RMS > c.rms {
			t.Errorf("%s: hours less service %+v", c.what, c.got)
		}
	}
}

// TestEPW: a real year is a record; a typical year is refused as one, and
// taken as an estimate by those who ask for it.
func TestEPW(t *testing.T) {
	rec, report, err := ReadFile(sharedfolder.Path(t, "data", "weather", "hourly", "CHE_Zuerich-SMA_2016_actual-year.epw.gz"), Options{Today: today})
	if err != nil || rec.Days() != 366 || rec.Estimated || rec.Site.ElevM != 556 || report.Format != "EPW hourly" {
		t.Fatalf("%v, %+v", err, rec)
	}
	// MeteoSwiss gives Zürich Fluntern 2016 some 10 °C and 1,250 mm (from memory).
	_, low := known(rec.TminC)
	_, high := known(rec.TmaxC)
	n, wet := known(rec.RainMM)
	if (low+high)/2 < 9 || (low+high)/2 > 11 || n != 366 || math.Abs(wet*366-1272) > 1 {
		t.Errorf("mean %.1f, rain %.0f mm", (low+high)/2, wet*366)
	}
	for _, c := range []struct {
		file, years string
		rain        bool
	}{
		{"USA_IL_Chicago-OHare.Intl.AP.725300_TMY3.epw.gz", "1977 to 2002", true},
		{"NLD_Amsterdam.062400_IWEC.epw.gz", "1982 to 1999", false},
		{"CHL_Santiago-Benitez.855740_TMYx.epw.gz", "2004 to 2017", true},
	} {
		_, _, err := ReadFile(sharedfolder.Path(t, "data", "weather", "hourly", c.file), Options{Today: today})
		if err == nil || !strings.Contains(err.Error(), "typical year") || !strings.Contains(err.Error(), c.years) || !strings.Contains(err.Error(), "--typical") {
			t.Errorf("%s: %v", c.file, err)
		}
		h, _, err := ReadHourly(hourlyFile(t, c.file), c.file, HourlyOptions{})
		if err != nil {
			t.Fatal(err)
		}
		days, err := Daily(h)
		if err != nil || days.Days() != 365 || !days.Estimated || !strings.Contains(days.Source, "typical year") || (h.RainMM != nil) != c.rain {
			t.Errorf("%s: %v, %d days, %q", c.file, err, days.Days(), days.Source)
		}
	}
}

// TestHeathrowsCrossedDays: in this copy the minimum is shifted by a day
// against the maximum, and on 230 days stands above it. All are reported.
func TestHeathrowsCrossedDays(t *testing.T) {
	rec, report := record(t, "UK_heathrow_ecad_london_weather.csv.gz")
	if report.RejectedCount != 230 || !strings.Contains(report.Rejected[0].What, "above maximum") || report.Rejected[0].Line < 2 {
		t.Errorf("%d left out, the first %+v", report.RejectedCount, report.Rejected[0])
	}
	if rec.Start.String() != "1979-01-01" || rec.End().Add(-1).String() != "2020-12-31" {
		t.Errorf("%s to %s", rec.Start, rec.End())
	}
}

// TestMonthly_Heathrow: the daily record of Heathrow against the Met Office's
// own monthly series.
func TestMonthly_Heathrow(t *testing.T) {
	series, err := ReadMonthly(sharedFile(t, "monthly", "UK_metoffice_heathrowdata.txt"), "heathrow")
	if err != nil {
		t.Fatal(err)
	}
	if len(series.Months) != 876 || series.Site != (weather.Site{LatDeg: 51.479, LonDeg: -0.449, ElevM: 25}) || series.Name != "Heathrow (London Airport)" {
		t.Errorf("%d months, %+v", len(series.Months), series.Site)
	}
	rec, _ := record(t, "UK_heathrow_ecad_london_weather.csv.gz")
	c := CheckMonthly(rec, series)
	if c.Months < 480 || math.Abs(c.TmaxC.Mean) > 0.05 || math.Abs(c.TminC.Mean) > 0.05 || c.TmaxC.RMS > 0.25 || c.TminC.RMS > 0.2 ||
		math.Abs(c.FrostDays.Mean) > 0.1 || c.FrostDays.RMS > 0.3 || math.Abs(c.RainMM.Mean) > 0.5 {
		t.Errorf("%+v", c)
	}
	// And it finds a record that is another's.
	debilt, _ := record(t, "NL_etmgeg_260_de-bilt.txt.gz")
	if c := CheckMonthly(debilt, series); c.TminC.RMS < 1 || c.FrostDays.RMS < 2 {
		t.Errorf("De Bilt passes for Heathrow: %+v", c)
	}
}

// TestMonthlyFiles reads all the series.
func TestMonthlyFiles(t *testing.T) {
	entries, err := os.ReadDir(sharedfolder.Path(t, "data", "weather", "monthly"))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		series, err := ReadMonthly(sharedFile(t, "monthly", e.Name()), e.Name())
		if err != nil || len(series.Months) < 500 {
			t.Errorf("%v", err)
			continue
		}
		for _, m := range series.Months {
			if m.TminC > m.TmaxC || m.FrostDays > 31 || m.FrostDays < 0 || m.RainMM < 0 {
				t.Errorf("%s: %+v", e.Name(), m)
			}
		}
	}
}

// TestSydneyParts joins the Bureau's two files by date; those whose reading
// covers two days are left out and said.
func TestSydneyParts(t *testing.T) {
	part := func(name string) Part { return Part{name, sharedFile(t, "daily", name)} }
	high, low := "AU_IDCJAC0010_066062_sydney_tmax.csv.gz", "AU_IDCJAC0011_066062_sydney_tmin.csv.gz"
	rec, report, err := ReadParts([]Part{part(high), part(low)}, Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	if rec.Start.String() != "1859-01-01" || rec.End().Add(-1).String() != "2018-04-15" || rec.TmaxC[0] != 24.4 || rec.TminC[0] != 14.5 || rec.Station != "BoM 066062" || report.RejectedCount != 2 {
		t.Errorf("%s to %s, %v %v, %+v", rec.Start, rec.End(), rec.TminC[0], rec.TmaxC[0], report)
	}
	if _, _, err := ReadParts([]Part{part(high), part(high)}); err == nil || !strings.Contains(err.Error(), "so does") {
		t.Errorf("the same twice: %v", err)
	}
	if _, _, err := ReadParts([]Part{part(high)}); err == nil || !strings.Contains(err.Error(), "minimum") {
		t.Errorf("one alone: %v", err)
	}
	if _, _, err := ReadFile(daily(t, high)); err == nil || !strings.Contains(err.Error(), "convert") {
		t.Errorf("alone: %v", err)
	}
}

// TestRealFilesByColumns reads the files that do not identify themselves by a
// person's word on their columns, to the days that the folder's README counts.
func TestRealFilesByColumns(t *testing.T) {
	for _, c := range []struct {
		file, columns, from, last string
		rows                      int
		tmin, tmax                float64 // of the first day
	}{
		{"SE_stockholm_1961_2012_t1t2t3txtntm.txt.gz", "year=#1,month=#2,day=#3,tmax_c=#7,tmin_c=#8", "1961-01-01", "2012-12-31", 18993, -0.2, 1.0},
		{"USW00014735_albany-ny.csv.gz", "year=YYYY,month=MM,day=DD,tmax_c=TMAX,tmin_c=TMIN,rain_mm=PRCP", "1938-06-01", "2018-04-25", 0, 8.3, 26.7},
		{"USW00014839_milwaukee-wi.csv.gz", "date=date,tmax_f=TMAX,tmin_f=TMIN,rain_in=PRCP", "1938-04-01", "2026-08-19", 0, -1.1, 2.2},
		{"UK_heathrow_ecad_london_weather.csv.gz", "date=date,tmin_c=min_temp,tmax_c=max_temp,rain_mm=precipitation", "1979-01-01", "2020-12-31", 0, -7.5, 2.3},
		{"EU_ecad_18stations_2000-2010.csv.gz", "date=DATE,tmin_c=BASEL_temp_min,tmax_c=BASEL_temp_max,rain_cm=BASEL_precipitation,humidity_1=BASEL_humidity", "2000-01-01", "2010-01-01", 3654, 1.6, 3.9},
	} {
		columns, err := ParseColumns(c.columns)
		if err != nil {
			t.Fatal(err)
		}
		rec, report, err := ReadColumns(sharedFile(t, "daily", c.file), c.file, columns, Options{Today: today})
		if err != nil {
			t.Error(err)
			continue
		}
		if rec.Start.String() != c.from || rec.End().Add(-1).String() != c.last || c.rows > 0 && report.Days != c.rows {
			t.Errorf("%s: %s to %s, %d days", c.file, rec.Start, rec.End().Add(-1), report.Days)
		}
		if math.Abs(rec.TminC[0]-c.tmin) > 0.05 || math.Abs(rec.TmaxC[0]-c.tmax) > 0.05 {
			t.Errorf("%s: first day %v to %v", c.file, rec.TminC[0], rec.TmaxC[0])
		}
	}
}

// TestSheet reads one of the stations side by side; its Heathrow is the
// Heathrow of the other sheet. Heathrow's humidity is in its unit, its rain in
// centimetres.
func TestSheet(t *testing.T) {
	f := func() *os.File { return sharedFile(t, "daily", "EU_ecad_18stations_2000-2010.csv.gz") }
	rec, report, err := ReadSheet(f(), "sheet", "Heathrow", Options{Today: today})
	if err != nil || report.Days != 3654 {
		t.Fatalf("%v, %+v", err, report)
	}
	other, _ := record(t, "UK_heathrow_ecad_london_weather.csv.gz")
	var low, high, wet tally
	for i := range rec.Days() {
		j, _ := other.Index(rec.Start.Add(i))
		low.add(rec.TminC[i] - other.TminC[j])
		high.add(rec.TmaxC[i] - other.TmaxC[j])
		wet.add(rec.RainMM[i] - other.RainMM[j])
	}
	if low.difference().RMS > 0.05 || high.difference().RMS > 0.05 || math.Abs(wet.difference().Mean) > 0.05 {
		t.Errorf("%+v %+v %+v", low.difference(), high.difference(), wet.difference())
	}
	if _, _, err := ReadSheet(f(), "sheet", "Paris"); err == nil || !strings.Contains(err.Error(), "BASEL") {
		t.Errorf("%v", err)
	}
}
