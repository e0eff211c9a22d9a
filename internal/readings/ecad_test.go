package readings

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"os"
	"strings"
	"testing"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/sharedfolder"
	"haulm/internal/weather"
)

// ecadFile is an element's file in the layout of ECA&D's blended series.
func ecadFile(element, unit, rows string) string {
	return "EUROPEAN CLIMATE ASSESSMENT & DATASET (ECA&D), file created on: 09-04-2021\nTHESE DATA CAN BE USED FREELY PROVIDED THAT THE FOLLOWING SOURCE IS ACKNOWLEDGED:\n\n" +
		"FILE FORMAT (MISSING VALUE CODE IS -9999):\n\n01-06 SOUID: Source identifier\n08-15 DATE : Date YYYYMMDD\n" +
		fmt.Sprintf("17-21 %s   : some element in %s\n23-27 Q_%s : Quality code for %s (0='valid'; 1='suspect'; 9='missing')\n\n", element, unit, element, element) +
		"This is the blended series of station SWEDEN, VAEXJOE (STAID: 1).\nBlended and updated with sources: 35381\n\n" +
		" SOUID,    DATE,   " + element + ", Q_" + element + "\n" + rows
}

func parts(texts ...string) []Part {
	var out []Part
	for i, text := range texts {
		out = append(out, Part{fmt.Sprintf("part%d", i+1), strings.NewReader(text)})
	}
	return out
}

func TestECADParts(t *testing.T) {
	high := ecadFile("TX", "0.1 &#176;C", " 35381,19180101,  123,    0\n 35381,19180102,  500,    1\n 35381,19180103,-9999,    9\n 35381,19180104,   50,    0\n")
	low := strings.Replace(ecadFile("TN", "0.1 °C", "      1, 35381,19180101,   45,    0\n      1, 35381,19180102,  -31,    0\n"), " SOUID,    DATE,", " STAID, SOUID,    DATE,", 1)
	wet := ecadFile("RR", "0.1 mm", " 35381,19180101,   25,    0\n")
	for _, order := range [][]Part{parts(high, low, wet), parts(wet, packed(low), packed(high))} {
		rec, report, err := ReadParts(order, Options{Today: today})
		if err != nil {
			t.Fatal(err)
		}
		if rec.Start.String() != "1918-01-01" || rec.TmaxC[0] != 12.3 || rec.TminC[0] != 4.5 || rec.RainMM[0] != 2.5 || rec.TminC[1] != -3.1 || !math.IsNaN(rec.TmaxC[1]) ||
			report.FlagsFailed != 1 || rec.Name != "SWEDEN, VAEXJOE" || rec.Station != "ECA&D 1" {
			t.Errorf("%+v, %+v", rec, report)
		}
	}
	for _, c := range []struct {
		name string
		of   []Part
		want string
	}{
		{"another unit", parts(ecadFile("TX", "0.1 &#176;F", ""), low), "0.1 &#176;F"},
		{"no unit", parts(strings.Replace(high, "some element in 0.1 &#176;C", "some element", 1), low), `""`},
		{"another station", parts(high, strings.Replace(low, "STAID: 1)", "STAID: 2)", 1)), "more than one station"},
		{"an element without use", parts(ecadFile("PP", "0.1 hPa", "")), "no use"},
		{"cut off", parts(high[:len(high)-14], low), "cut off"},
		{"no days", parts(high[:300]), "before its first day"},
		{"a whole record", parts("date,tmin_c,tmax_c\n2001-01-01,1,2\n"), "given alone"},
		{"nothing", parts(""), "empty"},
	} {
		if _, _, err := ReadParts(c.of); err == nil || !strings.Contains(err.Error(), c.want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	if _, _, err := Read(strings.NewReader(high), "x"); err == nil || !strings.Contains(err.Error(), "one element") {
		t.Errorf("alone: %v", err)
	}
}

// TestBoMRain: a gauge read after three days gives each its share.
func TestBoMRain(t *testing.T) {
	head := func(id, name string) string {
		return "Product code,Bureau of Meteorology station number,Year,Month,Day," + name + ",Quality\n" + id
	}
	high := head("IDCJAC0010,066062,2001,01,03,24.4,1,Y\n", "Maximum temperature (Degree C),Days of accumulation of maximum temperature")
	low := head("IDCJAC0011,066062,2001,01,03,14.5,1,Y\n", "Minimum temperature (Degree C),Days of accumulation of minimum temperature")
	wet := head("IDCJAC0009,066062,2001,01,01,,,\nIDCJAC0009,066062,2001,01,03,9.0,3,Y\n", "Rainfall amount (millimetres),Period over which rainfall was measured (days)")
	rec, _, err := ReadParts(parts(high, low, wet))
	if err != nil || rec.Days() != 3 || rec.RainMM[0] != 3 || rec.RainMM[2] != 3 {
		t.Errorf("%v, %+v", err, rec)
	}
}

func TestColumns(t *testing.T) {
	for _, c := range []struct{ columns, text string }{
		{"date=Day,tmin_c=Lo,tmax_c=Hi,rain_mm=Wet", "Day,Hi,Lo,Wet\n2001-05-01,12.3,4.5,2.5\n"},
		{"date_dmy=Day,tmin_c=Lo,tmax_c=Hi,rain_mm=Wet", "Day;Hi;Lo;Wet\n01/05/2001;12,3;4,5;2,5\n"},
		{"date_mdy=day,tmin_f=lo,tmax_f=hi,rain_in=wet", "Day\tHi\tLo\tWet\n5/1/2001\t54.14\t40.1\t0.09842520\n"},
		{"date_dmy=#1,tmin_10c=#3,tmax_10c=#2,rain_10mm=#4", "1.5.01 123 45 25\n"},
		{"date=#2,tmin_c=#4,tmax_c=#3,rain_cm=#5", "# made up\nA,20010501,12.3,4.5,0.25\n"},
	} {
		columns, err := ParseColumns(c.columns)
		if err != nil {
			t.Errorf("%s: %v", c.columns, err)
			continue
		}
		rec, _, err := ReadColumns(strings.NewReader(c.text), "x", columns, Options{Today: today})
		if err != nil || rec.Start.String() != "2001-05-01" || math.Abs(rec.TminC[0]-4.5) > 1e-6 || math.Abs(rec.TmaxC[0]-12.3) > 1e-6 || math.Abs(rec.RainMM[0]-2.5) > 1e-6 {
			t.Errorf("%s: %v, %+v", c.columns, err, rec)
		}
	}
	for text, want := range map[string]string{
		"": "does not say", "tmin_c": "does not say", "tmin=LO": "nothing that a column can hold", "tmin_c=A,tmin_c=B": "twice", "tmin_c=": "does not say",
	} {
		if _, err := ParseColumns(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v", text, err)
		}
	}
	for columns, want := range map[string]string{
		"date=d,tmin_c=a":                   "minimum and the maximum",
		"tmin_c=a,tmax_c=b":                 "holds the day",
		"date=d,tmin_c=a,tmax_c=zz":         `no column "zz"`,
		"date=d,tmin_c=a,tmin_f=b,tmax_c=b": "keep one",
		"date=#x,tmin_c=a,tmax_c=b":         "number",
		"date=#99,tmin_c=#2,tmax_c=#3":      "no day",
	} {
		c, err := ParseColumns(columns)
		if err == nil {
			_, _, err = ReadColumns(strings.NewReader("d,a,b\n2001-01-01,1,2\n"), "x", c)
		}
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", columns, err)
		}
	}
}

// epwText is a made-up EPW of some days by hand.
func epwText(days int, year func(i int) int, value func(i, hour int) string) string {
	var text strings.Builder
	text.WriteString("LOCATION,Somewhere,-,XXX,Own,123,50.0,5.0,1.0,100\nDESIGN CONDITIONS,0\nDATA PERIODS,1,1,Data,Sunday,1/1,12/31\n")
	for i := range days {
		_, m, d := calendar.On(2001, 1, 1+i).Civil()
		for hour := 1; hour <= 24; hour++ {
			fmt.Fprintf(&text, "%d,%d,%d,%d,0,?9,%s,0\n", year(i), m, d, hour, value(i, hour))
		}
	}
	return text.String()
}

// hour35 is an hour's columns 7 to 34: temperature, humidity, radiation, wind, rain.
func hour35(temp, rh, sun, wind, rain string) string {
	return temp + ",1.0," + rh + ",99500,0,0,218," + sun + ",0,0,0,0,0,0,270," + wind + ",9,9,24.1,2740,9,999999999,40,0,0,88,0," + rain
}

func TestEPWByHand(t *testing.T) {
	plain := func(_, hour int) string { return hour35(fmt.Sprint(hour), "80", "0", "3.2", "0.1") }
	same := func(int) int { return 2001 }
	rec, report, err := Read(strings.NewReader(epwText(3, same, plain)), "x", Options{Today: today})
	if err != nil || rec.Days() != 3 || rec.TminC[0] != 1 || rec.TmaxC[0] != 24 || math.Abs(rec.RainMM[0]-2.4) > 1e-9 || rec.HumidityPC[0] != 80 || math.Abs(rec.WindMS[0]-2.39) > 0.01 || rec.Site.ElevM != 100 || report.RejectedCount != 0 {
		t.Fatalf("%v, %+v, %+v", err, rec, report)
	}
	// Missing codes, and values that cannot be.
	holes := func(i, hour int) string {
		switch {
		case i == 0 && hour <= 4:
			return hour35("99.9", "999", "9999", "999", "999") // four hours missing: no day
		case i == 1 && hour == 3:
			return hour35("-70", "110", "9000", "90", "500")
		}
		return plain(i, hour)
	}
	rec, report, err = Read(strings.NewReader(epwText(3, same, holes)), "x", Options{Today: today})
	if err != nil || rec.Days() != 2 || report.RejectedCount != 5 {
		t.Errorf("%v, %d days, %+v", err, rec.Days(), report)
	}
	jump := func(i int) int { return 1990 + i%2 }
	for name, text := range map[string]string{
		"stitched": epwText(4, jump, plain),
		"by name":  strings.Replace(epwText(3, same, plain), ",Own,", ",TMY3,", 1),
	} {
		if _, _, err := Read(strings.NewReader(text), "x", Options{Today: today}); err == nil || !strings.Contains(err.Error(), "typical year") {
			t.Errorf("%s: %v", name, err)
		}
	}
	for name, text := range map[string]string{
		"cut off":      epwText(3, same, plain)[:2000],
		"DATA PERIODS": "LOCATION,a,b,c,d,e,50,5,1,100\nDESIGN CONDITIONS\n",
		"numbers":      "LOCATION,a,b,c,d,e,north,5,1,100\nDATA PERIODS\n",
		"ten columns":  "LOCATION,a\n",
		"no hour":      "LOCATION,a,b,c,d,e,50,5,1,100\nDATA PERIODS,1\n",
		"after today":  epwText(3, func(int) int { return 2030 }, plain),
	} {
		if _, _, err := Read(strings.NewReader(text), "x", Options{Today: today}); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestHourNames: midnight ends the day before.
func TestHourNames(t *testing.T) {
	for text, want := range map[string]string{
		"2017-01-01T00:00Z": "2016-12-31 24", "2017-01-01 13:00": "2017-01-01 13", "01-jan-1992 01:00": "1992-01-01 1", "01-jan-1992 00:00": "1991-12-31 24",
		"2017-07-01T15:00+02:00": "2017-07-01 15", "2017-01-01T13:30Z": "", "noon": "",
	} {
		d, hour, err := hourEnding(text)
		if got := fmt.Sprint(d, " ", hour); err == nil && got != want || (err != nil) != (want == "") {
			t.Errorf("%s: %s %v, want %s", text, got, err, want)
		}
	}
}

func TestIrishHourlyByHand(t *testing.T) {
	var text strings.Builder
	text.WriteString("Station Name: DUBLIN AIRPORT\nStation Height: 71 M \nLatitude:53.428  ,Longitude: -6.241\n\n\ndate,ind,rain,ind,temp,ind,wetb,dewpt,vappr,rhum,msl,ind,wdsp,ind,wddir\n")
	at := time.Date(2001, 5, 1, 1, 0, 0, 0, time.UTC)
	for i := range 48 {
		fmt.Fprintf(&text, "%s,0,0.1,0,%d,0,6.4,5.9,9.3,94,1004.9,2,10,2,130\n", strings.ToLower(at.Add(time.Duration(i)*time.Hour).Format("02-Jan-2006 15:04")), i%24)
	}
	rec, report, err := Read(strings.NewReader(text.String()), "x", Options{Today: today})
	if err != nil || report.Format != "Met Éireann hourly CSV" || rec.Days() != 2 || rec.TmaxC[0] != 23 || math.Abs(rec.RainMM[0]-2.4) > 1e-9 || rec.Site.ElevM != 71 || rec.HumidityPC[1] != 94 || math.Abs(rec.WindMS[0]-5.1444*0.748) > 0.01 {
		t.Errorf("%v, %+v, %+v", err, rec, report)
	}
}

func TestMonthlyByHand(t *testing.T) {
	head := "Nowhere\nLocation 1E 2N, Lat 51.479 Lon -0.449, 25m amsl\n   yyyy  mm   tmax    tmin      af    rain     sun\n              degC    degC    days      mm   hours\n"
	m, err := ReadMonthly(strings.NewReader(head+"   1948   1    8.9*    3.3    ---     85.0    ---\n   1948   2    7.9     2.2      4     26.0    51.6#  Provisional\n"), "x")
	if err != nil || len(m.Months) != 2 || m.Months[0].TmaxC != 8.9 || !math.IsNaN(m.Months[0].FrostDays) || m.Months[1].FrostDays != 4 || m.Name != "Nowhere" {
		t.Errorf("%v, %+v", err, m)
	}
	for text, want := range map[string]string{
		head: "no month", "": "empty", "date,tmin_c,tmax_c\n": "no monthly series", head + "  1948  13  1 2 3 4 5\n": "year and month", head + "  1948  1  warm 2 3 4 5\n": "warm", head + "  1948  1  2 3\n": "six columns",
	} {
		if _, err := ReadMonthly(strings.NewReader(text), "x"); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v", want, err)
		}
	}
	if _, _, err := Read(strings.NewReader(head+"   1948   1    8.9     3.3    ---     85.0    ---\n"), "x"); err == nil || !strings.Contains(err.Error(), "haulm weather check") {
		t.Errorf("as a record: %v", err)
	}
}

func FuzzReadHourly(f *testing.F) {
	f.Add([]byte(epwText(2, func(int) int { return 2001 }, func(_, h int) string { return hour35(fmt.Sprint(h), "80", "0", "3", "0") })), "")
	f.Add([]byte("station,date,rain_mm,temp_c,rh_pct,msl_hpa,wind_kt\nA,2017-01-01T00:00Z,0,5.2,89,1021.9,8\n"), "a")
	f.Add([]byte("date,ind,rain,ind,temp,ind\n01-jan-1987 00:00,0,0.1,0,6.8,0\n"), "")
	f.Add([]byte("\"date,temp_c\n"), "")
	f.Fuzz(func(t *testing.T, data []byte, station string) {
		h, report, err := ReadHourly(bytes.NewReader(data), "fuzz", HourlyOptions{Options{today}, station})
		if err != nil {
			return
		}
		if len(h.TempC)%weather.DayHours != 0 || h.Days() > (maxHourlyYears+1)*366 || len(report.Rejected) > maxListed {
			t.Fatalf("%d hours, %+v", len(h.TempC), report)
		}
		for _, hours := range [][]float64{h.HumidityPC, h.RainMM, h.WindMS, h.SunMJ} {
			if hours != nil && len(hours) != len(h.TempC) {
				t.Fatalf("%d of %d hours", len(hours), len(h.TempC))
			}
		}
		_, _ = Daily(h)
	})
}

func FuzzReadParts(f *testing.F) {
	f.Add([]byte(ecadFile("TX", "0.1 &#176;C", " 35381,19180101,  123,    0\n")), []byte(ecadFile("TN", "0.1 &#176;C", " 35381,19180101,  45,    0\n")))
	f.Add([]byte("Product code,Bureau of Meteorology station number,Year,Month,Day,Rainfall amount (millimetres),Period,Quality\nIDCJAC0009,066062,2001,01,03,9.0,3,Y\n"), []byte(""))
	f.Fuzz(func(t *testing.T, a, b []byte) {
		rec, _, err := ReadParts([]Part{{"a", bytes.NewReader(a)}, {"b", bytes.NewReader(b)}}, Options{Today: today})
		if err == nil && rec.Days() > weather.MaxYears*366 {
			t.Fatalf("%d days", rec.Days())
		}
	})
}

func FuzzReadColumns(f *testing.F) {
	f.Add("date=d,tmin_c=a,tmax_c=b", []byte("d,a,b\n2001-01-01,1,2\n"))
	f.Add("date_dmy=#1,tmin_10c=#2,tmax_10c=#3,station=#4", []byte("1.5.01;12;45;x\n"))
	f.Fuzz(func(t *testing.T, text string, data []byte) {
		columns, err := ParseColumns(text)
		if err != nil {
			return
		}
		rec, _, err := ReadColumns(bytes.NewReader(data), "fuzz", columns, Options{Today: today})
		if err == nil && (rec.Days() > weather.MaxYears*366 || len(rec.TmaxC) != rec.Days()) {
			t.Fatalf("%d days", rec.Days())
		}
	})
}

func FuzzReadSheet(f *testing.F) {
	f.Add([]byte("DATE,MONTH,BASEL_cloud_cover,BASEL_temp_mean,BASEL_temp_min,BASEL_temp_max\n20000101,1,8,2.9,1.6,3.9\n"), "basel")
	f.Fuzz(func(_ *testing.T, data []byte, station string) {
		_, _, _ = ReadSheet(bytes.NewReader(data), "fuzz", station)
	})
}

func FuzzReadMonthly(f *testing.F) {
	f.Add([]byte("Nowhere\n yyyy mm tmax tmin af rain sun\n 1948 1 8.9 3.3 --- 85.0 ---\n"))
	f.Add([]byte("Year\tMonth\tTmax\tTmin\tFrostdays\trainfall\tsunhours\n1930\t12\t7\t3.6\t\t122.4\t\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if m, err := ReadMonthly(bytes.NewReader(data), "fuzz"); err == nil {
			CheckMonthly(&weather.Record{Start: calendar.On(1948, 1, 1), TminC: make([]float64, 60), TmaxC: make([]float64, 60), RainMM: make([]float64, 60)}, m)
		}
	})
}

func benchFile(b *testing.B, folder, name string, read func(io.Reader) error) {
	data, err := os.ReadFile(sharedfolder.Path(b, "data", "weather", folder, name))
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if err := read(bytes.NewReader(data)); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkReadEPW reads 8784 hours.
func BenchmarkReadEPW(b *testing.B) {
	benchFile(b, "hourly", "CHE_Zuerich-SMA_2016_actual-year.epw.gz", func(r io.Reader) error { _, _, err := Read(r, "x"); return err })
}

// BenchmarkReadHourlyOfMany finds one station's year in 25, 219 thousand lines.
func BenchmarkReadHourlyOfMany(b *testing.B) {
	benchFile(b, "hourly", "IE_2017_25stations_hourly.csv.gz", func(r io.Reader) error {
		_, _, err := ReadHourly(r, "x", HourlyOptions{Station: "DUBLIN AIRPORT"})
		return err
	})
}

// BenchmarkReadColumns reads 80 years.
func BenchmarkReadColumns(b *testing.B) {
	columns, _ := ParseColumns("date=date,tmax_f=TMAX,tmin_f=TMIN,rain_in=PRCP")
	benchFile(b, "daily", "USW00014839_milwaukee-wi.csv.gz", func(r io.Reader) error { _, _, err := ReadColumns(r, "x", columns); return err })
}

// BenchmarkReadBoMParts reads 159 years of two files.
func BenchmarkReadBoMParts(b *testing.B) {
	low, err := os.ReadFile(daily(b, "AU_IDCJAC0011_066062_sydney_tmin.csv.gz"))
	if err != nil {
		b.Fatal(err)
	}
	benchFile(b, "daily", "AU_IDCJAC0010_066062_sydney_tmax.csv.gz", func(r io.Reader) error {
		_, _, err := ReadParts([]Part{{"a", r}, {"b", bytes.NewReader(low)}})
		return err
	})
}
