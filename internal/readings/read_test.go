package readings

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"haulm/internal/calendar"
	"haulm/internal/normals"
	"haulm/internal/weather"
)

func packed(text string) string {
	var out bytes.Buffer
	z := gzip.NewWriter(&out)
	_, _ = z.Write([]byte(text))
	_ = z.Close()
	return out.String()
}

// spoilt is a packed text whose check sum is wrong.
func spoilt(packed string) string {
	n := len(packed) - 6
	return packed[:n] + string([]byte{packed[n] ^ 0xff}) + packed[n+1:]
}

// dlyMonth is one line of a .dly, with flags for the days named.
func dlyMonth(element string, quality map[int]byte, values ...int) string {
	var line strings.Builder
	line.WriteString("USW00094728200105" + element)
	for d := 1; d <= 31; d++ {
		value, q := -9999, byte(' ')
		if d <= len(values) {
			value = values[d-1]
		}
		if f, ok := quality[d]; ok {
			q = f
		}
		fmt.Fprintf(&line, "%5d %c ", value, q)
	}
	return line.String() + "\n"
}

// dayOne is what a first day should read as.
type dayOne struct {
	date                 string
	tmin, tmax, rain     float64
	sun, humidity, windy float64 // 0 = not in the file
}

// TestFormats reads two or three days in each format: numbers are made up,
// layouts are the makers' (each reader names its source).
func TestFormats(t *testing.T) {
	knmiHead := "BRON: KONINKLIJK NEDERLANDS METEOROLOGISCH INSTITUUT (KNMI)\n\nYYYYMMDD = Datum\n\n# STN,YYYYMMDD,   FG,   TN,   TX,    Q,   RH,   UG\n\n"
	for _, c := range []struct {
		format, text string
		want         dayOne
	}{
		{"GHCN-Daily .dly", dlyMonth("TMAX", nil, 123, 130) + dlyMonth("TMIN", nil, 45, -7) + dlyMonth("PRCP", nil, 25, 0) + dlyMonth("SNOW", nil, 10),
			dayOne{"2001-05-01", 4.5, 12.3, 2.5, 0, 0, 0}},
		{"NCEI by-station CSV", "USW00094728,20010501,TMAX,123,,,W,2400\nUSW00094728,20010501,TMIN,45,,,W,2400\nUSW00094728,20010501,PRCP,25,,,W,2400\n",
			dayOne{"2001-05-01", 4.5, 12.3, 2.5, 0, 0, 0}},
		{"NCEI by-station CSV", "ID,DATE,ELEMENT,DATA_VALUE,M_FLAG,Q_FLAG,S_FLAG,OBS_TIME\nUSW00094728,20010501,TMAX,123,,,W,\nUSW00094728,20010501,TMIN,45,,,W,\n",
			dayOne{"2001-05-01", 4.5, 12.3, math.NaN(), 0, 0, 0}},
		{"NCEI daily summaries CSV", `"STATION","DATE","LATITUDE","LONGITUDE","ELEVATION","NAME","PRCP","PRCP_ATTRIBUTES","TMAX","TMAX_ATTRIBUTES","TMIN","TMIN_ATTRIBUTES"` + "\n" +
			`"USW00094728","2001-05-01","40.77898","-73.96925","42.7","NY CITY CENTRAL PARK, NY US","   25",",,W,2400","  123",",,W","   45",",,W"` + "\n",
			dayOne{"2001-05-01", 4.5, 12.3, 2.5, 0, 0, 0}},
		{"KNMI daily text", knmiHead + "  260,20010501,   31,   45,  123, 1850,   25,   81\n  260,20010502,   31,   45,  123, 1850,   -1,   81\n",
			dayOne{"2001-05-01", 4.5, 12.3, 2.5, 18.5, 81, 3.1 * 4.87 / math.Log(67.8*10-5.42)}},
		{"Met Éireann daily CSV", "Station Name: DUBLIN AIRPORT\nStation Height: 71 M \nLatitude:53.428  ,Longitude: -6.241\n\ndate,ind,maxtp,ind,mintp,igmin,gmin,ind,rain,cbl,wdsp,g_rad\n01-may-2001,0,12.3,0,4.5,0,1,0,2.5,1010,10,1850\n",
			dayOne{"2001-05-01", 4.5, 12.3, 2.5, 18.5, 0, 5.144444 * 4.87 / math.Log(67.8*10-5.42)}},
		{"Met Éireann daily CSV", "date,maxtp,mintp,gmin,rain,cbl,wdsp,g_rad\n01-May-42,12.3,4.5, ,2.5,1010, , \n",
			dayOne{"1942-05-01", 4.5, 12.3, 2.5, 0, 0, 0}},
		{"SENAMHI daily text", "2001 5 1 2.5 12.3 4.5\n2001 5 2 0 12.3 4.5\n2001 5 3 -99.9 12.3 4.5\n",
			dayOne{"2001-05-01", 4.5, 12.3, 2.5, 0, 0, 0}},
		{"DSSAT weather file", "*WEATHER DATA : Somewhere\n\n@ INSI      LAT     LONG  ELEV   TAV   AMP REFHT WNDHT\n  SOME   50.299 -107.299   817   4.0  30.0   2.0   3.0\n@DATE  SRAD  TMAX  TMIN  RAIN  DEWP  WIND   PAR  EVAP  RHUM\n01121  18.5  12.3   4.5   2.5       172.8              81.0\n",
			dayOne{"2001-05-01", 4.5, 12.3, 2.5, 18.5, 81, 2 * 4.87 / math.Log(67.8*3-5.42)}},
		{"plain CSV", "# name: Upper garden\n# lat: 51.5\n# lon: -0.1\n# elev_m: 20\n# source: own\nDate,TMAX_C,Tmin_C,rain_mm,sun_mj,humidity_pc,wind_ms\n2001-05-01,12.3,4.5,2.5,18.5,81,2\n",
			dayOne{"2001-05-01", 4.5, 12.3, 2.5, 18.5, 81, 2}},
		{"plain CSV", "date,tmin_f,tmax_f,rain_in\r\n2001-05-01,40.1,54.14,0.1\r\n2001-05-02,40,54,T\r\n", dayOne{"2001-05-01", 4.5, 12.3, 2.54, 0, 0, 0}},
		{"plain CSV", "station,date,tmax_c,tmin_c,srad_w_m2,prcp_mm\nA,20010501,12.3,4.5,214.1204,2.5\n", dayOne{"2001-05-01", 4.5, 12.3, 2.5, 18.5, 0, 0}},
		{"plain CSV", "year,month,day,tmax_c,tmin_c,rhmax_pct,rhmin_pct,other\n2001,5,1,12.3,4.5,100,62,9\n", dayOne{"2001-05-01", 4.5, 12.3, math.NaN(), 0, 81, 0}},
		{"plain CSV", "date,tmax_c,tmin_c,rain_mm,snow_cm,prcp_mm\n2001-05-01,12.3,4.5,1,2,2.5\n", dayOne{"2001-05-01", 4.5, 12.3, 2.5, 0, 0, 0}},
	} {
		for _, text := range []string{c.text, packed(c.text), "\xef\xbb\xbf" + c.text} {
			rec, report, err := Read(strings.NewReader(text), "file", Options{Today: today})
			if err != nil {
				t.Errorf("%s: %v", c.format, err)
				continue
			}
			if report.Format != c.format || report.RejectedCount != 0 {
				t.Errorf("%s: read as %s, rejected %v", c.format, report.Format, report.Rejected)
			}
			compare(t, c.format, rec, c.want)
		}
	}
}

func compare(t *testing.T, format string, rec *weather.Record, want dayOne) {
	t.Helper()
	if rec.Start.String() != want.date {
		t.Errorf("%s: starts on %s, want %s", format, rec.Start, want.date)
	}
	for v, x := range [weather.Variables]float64{want.tmin, want.tmax, want.rain, want.sun, want.humidity, want.windy} {
		days := rec.Series(weather.Variable(v))
		if x == 0 {
			if days != nil && weather.AnyKnown(days) {
				t.Errorf("%s: has %s", format, weather.Limits[v].Name)
			}
			continue
		}
		if days == nil || math.Abs(days[0]-x) > 1e-5 || math.IsNaN(days[0]) != math.IsNaN(x) {
			t.Errorf("%s: %s %v, want %v", format, weather.Limits[v].Name, days, x)
		}
	}
}

// TestWindAt2M_FAO56_Example14: 3.2 m/s at 10 m is 2.4 m/s at 2 m (FAO-56,
// example 14, from memory; the book rounds to a tenth).
func TestWindAt2M_FAO56_Example14(t *testing.T) {
	if got := weather.WindAt2M(3.2, 10); math.Abs(got-2.4) > 0.05 {
		t.Errorf("got %.3f", got)
	}
}

// TestWhatIsLeftOut: a value that cannot be is reported by its line and is
// missing in the record.
func TestWhatIsLeftOut(t *testing.T) {
	head := "# lat: 50.3\n# lon: -107.3\ndate,tmin_c,tmax_c,rain_mm,sun_mj,humidity_pc\n"
	good := "2001-05-01,1,10,0,20,80\n"
	for _, c := range []struct {
		row, what string
		lost      []weather.Variable
	}{
		{"2001-05-02,12,10,0,20,80", "above maximum", []weather.Variable{weather.Tmin, weather.Tmax}},
		{"2001-05-02,-61,10,0,20,80", "cannot be", []weather.Variable{weather.Tmin}},
		{"2001-05-02,1,61,0,20,80", "cannot be", []weather.Variable{weather.Tmax}},
		{"2001-05-02,1,10,-1,20,80", "cannot be", []weather.Variable{weather.Rain}},
		{"2001-05-02,1,10,2001,20,80", "cannot be", []weather.Variable{weather.Rain}},
		{"2001-05-02,1,10,0,160,80", "160", []weather.Variable{weather.Sunshine}},
		{"2001-12-21,1,10,0,9,80", "sun can send", []weather.Variable{weather.Sunshine}},
		{"2001-05-02,1,10,0,20,106", "cannot be", []weather.Variable{weather.Humidity}},
		{"2001-05-02,one,10,0,20,80", "not a number", []weather.Variable{weather.Tmin}},
	} {
		rec, report, err := Read(strings.NewReader(head+good+c.row+"\n"), "file", Options{Today: today})
		if err != nil {
			t.Errorf("%s: %v", c.row, err)
			continue
		}
		if report.RejectedCount != 1 || report.Rejected[0].Line != 5 || report.Rejected[0].Date != rec.End()-1 || !strings.Contains(report.Rejected[0].What, c.what) {
			t.Errorf("%s: reported %+v", c.row, report.Rejected)
		}
		last := rec.Days() - 1
		for v := range weather.Humidity + 1 {
			lost := false
			for _, l := range c.lost {
				lost = lost || l == v
			}
			if math.IsNaN(rec.Series(v)[last]) != lost {
				t.Errorf("%s: %s is %v", c.row, weather.Limits[v].Name, rec.Series(v)[last])
			}
		}
	}
}

// TestRejectedDates: a day that does not exist is no day.
func TestRejectedDates(t *testing.T) {
	text := "date,tmin_c,tmax_c\n2001-02-28,1,2\n2001-02-29,1,2\n28/02/2001,1,2\n2001-03-01,1\n2001-03-02,1,2\n"
	rec, report, err := Read(strings.NewReader(text), "file")
	if err != nil || report.RejectedCount != 3 || report.Days != 2 || rec.Days() != 3 {
		t.Errorf("%v, %+v", err, report)
	}
}

// TestQualityFlags: a value that failed the maker's own checks is left out.
func TestQualityFlags(t *testing.T) {
	wideHead := "STATION,DATE,LATITUDE,LONGITUDE,ELEVATION,NAME,TMAX,TMAX_ATTRIBUTES,TMIN,TMIN_ATTRIBUTES\n"
	for _, text := range []string{
		dlyMonth("TMAX", map[int]byte{2: 'S'}, 123, 130) + dlyMonth("TMIN", nil, 45, 40),
		"USW00094728,20010501,TMAX,123,,,W,\nUSW00094728,20010502,TMAX,130,,S,W,\nUSW00094728,20010501,TMIN,45,,,W,\nUSW00094728,20010502,TMIN,40,,,W,\n",
		wideHead + `X,2001-05-01,40,-73,42,"A, B",123,",,W",45,",,W"` + "\n" + `X,2001-05-02,40,-73,42,"A, B",130,",S,W",40,",,W"` + "\n",
	} {
		rec, report, err := Read(strings.NewReader(text), "file")
		if err != nil {
			t.Fatal(err)
		}
		if report.FlagsFailed != 1 || rec.TmaxC[0] != 12.3 || !math.IsNaN(rec.TmaxC[1]) || rec.TminC[1] != 4 {
			t.Errorf("%s: %d failed, Tmax %v", report.Format, report.FlagsFailed, rec.TmaxC)
		}
	}
}

// TestDuplicates: the first is kept, and only a different second is listed.
func TestDuplicates(t *testing.T) {
	text := "date,tmin_c,tmax_c\n2001-05-01,1,9\n2001-05-01,1,9\n2001-05-01,2,9\n2001-05-02,1,9\n"
	rec, report, err := Read(strings.NewReader(text), "file")
	if err != nil {
		t.Fatal(err)
	}
	if report.Duplicates != 2 || report.RejectedCount != 1 || report.Rejected[0].Line != 4 || rec.TminC[0] != 1 {
		t.Errorf("%+v, Tmin %v", report, rec.TminC)
	}
}

// TestListIsCappedCountIsNot.
func TestListIsCappedCountIsNot(t *testing.T) {
	var text strings.Builder
	text.WriteString("date,tmin_c,tmax_c\n")
	for i := range 1000 {
		fmt.Fprintf(&text, "%s,5,9\n", calendar.On(2001, 1, 1+i))
	}
	for range 500 {
		text.WriteString("yesterday,5,9\n")
	}
	_, report, err := Read(strings.NewReader(text.String()), "file")
	if err != nil || report.RejectedCount != 500 || len(report.Rejected) != maxListed {
		t.Errorf("%v, %d counted, %d listed", err, report.RejectedCount, len(report.Rejected))
	}
}

// year is a plain CSV of one year with the header and values given.
func year(header string, start calendar.Date, row func(d calendar.Date) string) string {
	var text strings.Builder
	text.WriteString(header + "\n")
	for d := start; d < start+365; d++ {
		text.WriteString(d.String() + "," + row(d) + "\n")
	}
	return text.String()
}

// TestBadInput: every file that cannot be trusted gets one line that says what
// is wrong and what to do.
func TestBadInput(t *testing.T) {
	good := year("date,tmin_c,tmax_c,rain_mm", calendar.On(2001, 1, 1), func(calendar.Date) string { return "5,12,1" })
	fahrenheit := func(d calendar.Date) string {
		return fmt.Sprintf("%.0f,%.0f,0", seasonal(d)*1.8+32, seasonal(d)*1.8+50)
	}
	celsius := func(d calendar.Date) string {
		return fmt.Sprintf("%.1f,%.1f,0", seasonal(d), seasonal(d)+10)
	}
	for _, c := range []struct{ name, text, want string }{
		{"empty", "", "empty"},
		{"blank", " \n\n", "empty"},
		{"empty, packed", packed(""), "empty"},
		{"only comments", "# name: nowhere\n", "date,tmin_c,tmax_c,rain_mm"},
		{"header only", "date,tmin_c,tmax_c\n", "no day of weather"},
		{"packed and cut", packed(good)[:600], "cut off"},
		{"packed and damaged", spoilt(packed(good)), "damaged"},
		{"cut in a row", good[:len(good)-8], "cut off"},
		{"cut .dly", dlyMonth("TMAX", nil, 123)[:100], "cut off"},
		{"cut by-station", "USW00094728,20010501,TMAX,123,,,W,\nUSW00094728,200105", "cut off"},
		{"binary", "\x00\x01\x02\x03\x04\x05\x06\x07", "binary"},
		{"binary after a header", "date,tmin_c,tmax_c\n" + strings.Repeat("2001-01-01,1,2\n", 2000) + "\x00\x00\n", "binary"},
		{"zip", "PK\x03\x04....", "zip"},
		{"UTF-16", "\xff\xfed\x00a\x00", "UTF-16"},
		{"°F called °C", year("date,tmin_c,tmax_c,rain_mm", calendar.On(2001, 1, 1), fahrenheit), "tmin_f"},
		{"°C called °F", year("date,tmin_f,tmax_f,rain_in", calendar.On(2001, 1, 1), celsius), "tmin_c"},
		{"tenths called °C", year("date,tmin_c,tmax_c", calendar.On(2001, 1, 1), func(calendar.Date) string { return "51,123" }), "tenths"},
		{"mm called inches", year("date,tmin_c,tmax_c,rain_in", calendar.On(2001, 1, 1), func(calendar.Date) string { return "5,12,2.1" }), "rain_mm"},
		{"J/cm² called MJ", year("date,tmin_c,tmax_c,sun_mj", calendar.On(2001, 1, 1), func(calendar.Date) string { return "5,12,1800" }), "unit"},
		{"future", good + "2031-01-01,5,12,1\n", "after today"},
		{"no unit", "date,tmin,tmax\n2001-01-01,1,2\n", "date,tmin_c,tmax_c,rain_mm"},
		{"no header", "2001-01-01,1,2,3\n", "date,tmin_c,tmax_c,rain_mm"},
		{"no date", "tmin_c,tmax_c\n1,2\n", "no column date"},
		{"twice the same", "date,tmin_c,tmax_c,tmax_f\n2001-01-01,1,2,40\n", "keep one"},
		{"no maximum", "date,tmin_c,rain_mm\n2001-01-01,1,2\n", "no maximum"},
		{"no maximum in .dly", dlyMonth("TMIN", nil, 45), "no maximum"},
		{"semicolons", "date;tmin_c;tmax_c\n2001-01-01;1;2\n", "commas"},
		{"bad latitude", "# lat: north\ndate,tmin_c,tmax_c\n2001-01-01,1,2\n", "lat"},
		{"NaN latitude", "# lat: NaN\ndate,tmin_c,tmax_c\n2001-01-01,1,2\n", "lat"},
		{"two stations", "station,date,tmin_c,tmax_c\nA,2001-01-01,1,2\nB,2001-01-01,1,2\n", "more than one station"},
		{"two stations, .dly", dlyMonth("TMAX", nil, 1) + strings.Replace(dlyMonth("TMAX", nil, 1), "USW00094728", "USW00014735", 1), "more than one station"},
		{"400 years", "date,tmin_c,tmax_c\n1600-01-01,1,2\n2024-01-01,1,2\n", "400 years"},
		{"no known day", "date,tmin_c,tmax_c\n1/2/2001,1,2\n", "line 2"},
		{"summaries in units", "STATION,DATE,LATITUDE,LONGITUDE,ELEVATION,NAME,TMAX,TMAX_ATTRIBUTES,TMIN,TMIN_ATTRIBUTES\nX,2001-05-01,40,-73,42,A,12.3,\",,W\",4.5,\",,W\"\n", "decimal point"},
		{"summaries without attributes", "STATION,DATE,LATITUDE,LONGITUDE,ELEVATION,NAME,TMAX,TMIN\nX,2001-05-01,40,-73,42,A,54,40\n", "_ATTRIBUTES"},
		{"one element", "Product code,Bureau of Meteorology station number,Year,Month,Day,Maximum temperature (Degree C),Days of accumulation of maximum temperature,Quality\nIDCJAC0010,066062,1859,01,01,24.4,,Y\n", "one element"},
		{"six columns in another order", strings.Repeat("2001 5 1 22.3 14.5 2.5\n", 30), "values say otherwise"},
		{"a long line", "date,tmin_c,tmax_c\n" + strings.Repeat("1", maxLine+10), "longer than"},
		{"a letter", "Dear Sir, it was cold.\n", "date,tmin_c,tmax_c,rain_mm"},
	} {
		_, _, err := Read(strings.NewReader(c.text), "my.csv", Options{Today: calendar.On(2026, 6, 1)})
		switch {
		case err == nil:
			t.Errorf("%s: no error", c.name)
		case !strings.Contains(err.Error(), c.want), strings.Contains(err.Error(), "\n"), !strings.HasPrefix(err.Error(), "my.csv: "):
			t.Errorf("%s: %q, want one line with %q", c.name, err, c.want)
		}
	}
	if _, _, err := ReadFile("testdata/none.csv"); err == nil {
		t.Error("a file that is not there gave no error")
	}
}

// TestDamagedPacking: what the packing layer finds wrong is said in words.
func TestDamagedPacking(t *testing.T) {
	whole := packed(year("date,tmin_c,tmax_c", calendar.On(2001, 1, 1), func(d calendar.Date) string { return fmt.Sprintf("%d,%d", d%7, 9+d%11) }))
	broken := func(at int) string {
		bytes := []byte(whole)
		for i := at; i < at+8; i++ {
			bytes[i] ^= 0xff
		}
		return string(bytes)
	}
	for _, c := range []struct{ name, text, want string }{
		{"cut off", whole[:len(whole)/2], "cut off before its end"},
		{"blocks", broken(12), "damaged"},
		{"check sum", broken(len(whole) - 8), "damaged"},
	} {
		_, _, err := Read(strings.NewReader(c.text), "file")
		if err == nil || !strings.Contains(err.Error(), "the packed file is "+c.want) {
			t.Errorf("%s: got %v", c.name, err)
		}
	}
}

// TestLongWordsAreCutBetweenLetters: what an error quotes stays readable.
func TestLongWordsAreCutBetweenLetters(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"née", "née"}, {strings.Repeat("é", 60), strings.Repeat("é", 60)}, {strings.Repeat("é", 61), strings.Repeat("é", 60) + "…"},
	} {
		if got := shorten(c.text); got != c.want {
			t.Errorf("%q became %q", c.text, got)
		}
	}
}

// TestFortyYearHole: a hole is missing days, and no more.
func TestFortyYearHole(t *testing.T) {
	text := "date,tmin_c,tmax_c\n1950-01-01,1,2\n1990-01-01,1,2\n"
	rec, report, err := Read(strings.NewReader(text), "file")
	if err != nil || report.Days != 2 || rec.Days() != 14611 {
		t.Fatalf("%v, %+v", err, report)
	}
	if _, gaps := weather.Fill(rec, weather.WMORules()); len(gaps.LeftOut()) != 40 {
		t.Errorf("%d years left out, want 1950 to 1989", len(gaps.LeftOut()))
	}
}

// TestDaysInAnyOrder: a file that runs backwards is the same record.
func TestDaysInAnyOrder(t *testing.T) {
	text := "date,tmin_c,tmax_c\n2001-03-02,3,9\n1999-12-31,2,9\n2000-02-29,1,9\n"
	rec, _, err := Read(strings.NewReader(text), "file")
	if err != nil || rec.Start.String() != "1999-12-31" || rec.TminC[60] != 1 || rec.TminC[rec.Days()-1] != 3 {
		t.Errorf("%v %+v", err, rec)
	}
}

// TestRealFiles reads every record of the reference folder that identifies
// itself, to the days that the folder's README counts.
func TestRealFiles(t *testing.T) {
	for _, c := range []struct {
		file, format, from, last string
		days                     int
	}{
		{"USW00094728_new-york-central-park.dly.gz", "GHCN-Daily .dly", "1869-01-01", "2020-01-03", 55154},
		{"IE_dly532_dublin-airport.csv.gz", "Met Éireann daily CSV", "1942-01-01", "2025-09-30", 30589},
		{"NL_etmgeg_260_de-bilt.txt.gz", "KNMI daily text", "1980-01-01", "2019-12-31", 14610},
		{"PE_qc00000708_puno.txt.gz", "SENAMHI daily text", "1964-02-01", "2012-12-31", 17807},
		{"CA_SWIF6752_swift-current-sk.wth.gz", "DSSAT weather file", "1967-01-01", "2018-12-31", 18993},
		{"US_AZMC8832_maricopa-az.wth.gz", "DSSAT weather file", "1988-01-01", "2020-12-31", 12054},
		{"US_UFJA0219_jay-fl.wth.gz", "DSSAT weather file", "2002-08-06", "2019-12-31", 5626},
		{"AU_bom_alicesprings_2007-2026.csv.gz", "plain CSV", "2008-12-01", "2026-01-30", 5782},
		{"AU_bom_sydney_2007-2026.csv.gz", "plain CSV", "2008-02-01", "2026-01-30", 6086},
		{"ES_tudela.csv.gz", "plain CSV", "2000-01-01", "2010-12-31", 4018},
		{"CA_2100630_haines-junction-yt.csv.gz", "plain CSV", "1975-01-01", "2001-01-31", 4392},
		{"IT_T0129_trento-laste.csv.gz", "plain CSV", "1958-01-01", "2007-12-31", 18262},
		{"UK_heathrow_ecad_london_weather.csv.gz", "ECA&D sheet (°C, mm, W/m²)", "1979-01-01", "2020-12-31", 15341},
	} {
		rec, report := record(t, c.file)
		if report.Format != c.format || rec.Start.String() != c.from || (rec.End()-1).String() != c.last || report.Days != c.days {
			t.Errorf("%s: %s, %s to %s, %d days; want %+v", c.file, report.Format, rec.Start, rec.End()-1, report.Days, c)
		}
	}
	// Swift Current: the one day with 160 MJ and the winter days brighter than
	// the sun; Haines Junction: the one day upside down.
	_, report := record(t, "CA_SWIF6752_swift-current-sk.wth.gz")
	found := false
	for _, l := range report.Rejected {
		found = found || strings.Contains(l.What, "160.4")
	}
	if !found {
		t.Error("Swift Current: the 160 MJ of 8 April 1996 are not reported")
	}
	if _, report := record(t, "CA_2100630_haines-junction-yt.csv.gz"); report.RejectedCount != 1 || report.Rejected[0].Date.String() != "1984-02-08" {
		t.Errorf("Haines Junction: %+v", report.Rejected)
	}
	for file, want := range map[string]string{
		"USW00014839_milwaukee-wi.csv.gz":                 "does not say its unit",
		"USW00014735_albany-ny.csv.gz":                    "does not say its unit",
		"AU_IDCJAC0010_066062_sydney_tmax.csv.gz":         "one element",
		"SE_stockholm_1961_2012_t1t2t3txtntm.txt.gz":      "no header",
		"EU_ecad_18stations_2000-2010.csv.gz":             "holds 18 stations",
		"../../../reference/models/phenology_weather.csv": "more than one station",
	} {
		if _, _, err := ReadFile(daily(t, file), Options{Today: today}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", file, err, want)
		}
	}
}

// TestWriteCSVThereAndBack: what is written is read as the same record.
func TestWriteCSVThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 60).Draw(t, "days")
		rec := &weather.Record{
			Name: "Upper garden", Station: "7", Source: "own thermometer", Estimated: rapid.Bool().Draw(t, "estimated"),
			Site:  weather.Site{LatDeg: rapid.Float64Range(-60, 60).Draw(t, "lat"), LonDeg: rapid.Float64Range(-180, 180).Draw(t, "lon"), ElevM: rapid.Float64Range(-400, 5000).Draw(t, "elev")},
			Start: calendar.On(1900, 1, 1).Add(rapid.IntRange(0, 40000).Draw(t, "start")),
		}
		tops := [weather.Variables]float64{20, 50, 300, 1, 105, 30}
		for v := range weather.Variables {
			if v > weather.Rain && rapid.Bool().Draw(t, "not measured") {
				continue
			}
			days := make([]float64, n)
			for i := range days {
				low := 0.0
				if v == weather.Tmax {
					low = 20
				}
				days[i] = maybe(rapid.Float64Range(low, tops[v]).Draw(t, weather.Limits[v].Name), i == 0 || i == n-1 || rapid.IntRange(0, 5).Draw(t, "keep") > 0)
			}
			rec.SetSeries(v, days)
		}
		var out strings.Builder
		if err := WriteCSV(&out, rec); err != nil {
			t.Fatal(err)
		}
		back, report, err := Read(strings.NewReader(out.String()), "x")
		if err != nil {
			t.Fatal(err)
		}
		if report.RejectedCount > 0 && rec.SunMJ == nil {
			t.Fatalf("rejected %v", report.Rejected)
		}
		same(t, rec, back)
	})
}

func same(t *rapid.T, a, b *weather.Record) {
	if a.Name != b.Name || a.Station != b.Station || a.Source != b.Source || a.Estimated != b.Estimated || a.Site != b.Site || a.Start != b.Start || a.Days() != b.Days() {
		t.Fatalf("wrote %+v\nread %+v", a, b)
	}
	for v := range weather.Variables {
		x, y := a.Series(v), b.Series(v)
		if len(x) != len(y) {
			t.Fatalf("%s: %d days written, %d read", weather.Limits[v].Name, len(x), len(y))
		}
		for i := range x {
			dark := v == weather.Sunshine && math.IsNaN(y[i]) // below the polar circle's winter sun
			if x[i] != y[i] && !(math.IsNaN(x[i]) && math.IsNaN(y[i])) && !dark {
				t.Fatalf("%s, day %d: wrote %v, read %v", weather.Limits[v].Name, i, x[i], y[i])
			}
		}
	}
}

// FuzzRead: no bytes make a reader crash, hang or grow, and what is read is
// within the limits.
func FuzzRead(f *testing.F) {
	for _, seed := range []string{
		"", "date,tmin_c,tmax_c,rain_mm\n2001-05-01,1,2,3\n", "# lat: 91\ndate,tmin_f,tmax_f\n2001-05-01,1,2\n",
		dlyMonth("TMAX", nil, 123, 130) + dlyMonth("TMIN", map[int]byte{1: 'I'}, 45),
		"USW00094728,20010501,TMAX,123,,,W,2400\nUSW00094728,20010501,TMIN,45,,,W,2400\n",
		"STATION,DATE,LATITUDE,LONGITUDE,ELEVATION,NAME,TMAX,TMAX_ATTRIBUTES,TMIN,TMIN_ATTRIBUTES\nX,2001-05-01,40,-73,42,\"A, B\",123,\",,W\",45,\",,W\"\n",
		"KNMI\nYYYYMMDD\n# STN,YYYYMMDD,FG,TN,TX,Q,RH,UG\n260,20010501,31,45,123,1850,-1,81\n",
		"date,maxtp,mintp,rain,wdsp,g_rad\n01-may-2001,12,4,1,10,1850\n",
		"2001 5 1 0 12.3 4.5\n", "*WEATHER : x\n@ INSI LAT LONG ELEV WNDHT\n A 50 -100 9 2\n@DATE  SRAD  TMAX  TMIN  RAIN\n01121  18.5  12.3   4.5   2.5\n",
		packed("date,tmin_c,tmax_c\n2001-05-01,1,2\n"), "Product code,Bureau of Meteorology station number,\n",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		rec, report, err := Read(bytes.NewReader(data), "fuzz", Options{Today: today})
		if err != nil {
			return
		}
		if rec.Days() > weather.MaxYears*366 || len(report.Rejected) > maxListed || report.Days > rec.Days() {
			t.Fatalf("%d days, %+v", rec.Days(), report)
		}
		for v := range weather.Variables {
			days := rec.Series(v)
			if days != nil && len(days) != rec.Days() {
				t.Fatalf("%s has %d days of %d", weather.Limits[v].Name, len(days), rec.Days())
			}
			for _, x := range days {
				if !weather.Limits[v].Possible(x) {
					t.Fatalf("%s %v", weather.Limits[v].Name, x)
				}
			}
		}
	})
}

// BenchmarkReadDly reads 150 years of Central Park, packed; the aim is 100 ms.
func BenchmarkReadDly(b *testing.B) {
	data, err := os.ReadFile(daily(b, "USW00094728_new-york-central-park.dly.gz"))
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, _, err := Read(bytes.NewReader(data), "x", Options{Today: today}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkReadPlain reads 32 years of a plain CSV.
func BenchmarkReadPlain(b *testing.B) {
	rec, err := normals.BuiltIn(normals.MildMaritime)
	if err != nil {
		b.Fatal(err)
	}
	var out bytes.Buffer
	if err := WriteCSV(&out, rec); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, _, err := Read(bytes.NewReader(out.Bytes()), "x"); err != nil {
			b.Fatal(err)
		}
	}
}
