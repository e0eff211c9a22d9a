package cli

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/garden"
)

// service stands in for both services; no other host is asked.
func service(t *testing.T) (url string, asked *[]string) {
	t.Helper()
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	t.Setenv("HOME", t.TempDir())
	asked = new([]string)
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		*asked = append(*asked, r.URL.Path+" "+r.UserAgent())
		switch r.URL.Path {
		case "/ghcnd-inventory.txt":
			for _, e := range []string{"TMAX", "TMIN", "PRCP"} {
				fmt.Fprintf(w, "%-11s %8.4f %9.4f %-4s %4d %4d\n", "USW00000001", 40.1, -75.0, e, 1990, 2026)
			}
		case "/ghcnd-stations.txt":
			fmt.Fprintf(w, "%-11s %8.4f %9.4f %6.1f %-2s %-30s\n", "USW00000001", 40.1, -75.0, 50.0, "PA", "SOMEWHERE AP")
		case "/by_station/USW00000001.csv.gz":
			z := gzip.NewWriter(w)
			for d := calendar.On(2001, 1, 1); d < calendar.On(2013, 1, 1); d++ {
				x := int(100 - 100*cosYear(d.YearDay()))
				day := strings.ReplaceAll(d.String(), "-", "")
				fmt.Fprintf(z, "USW00000001,%s,TMAX,%d,,,W,2400\nUSW00000001,%s,TMIN,%d,,,W,2400\nUSW00000001,%s,PRCP,20,,,W,2400\n", day, x+50, day, x-50, day)
			}
			_ = z.Close()
		case "/compact":
			w.Header().Set("Content-Type", "application/json")
			w.Header().Set("Expires", time.Date(2026, 11, 25, 8, 30, 0, 0, time.UTC).Format(http.TimeFormat))
			_, _ = w.Write([]byte(`{"geometry":{"coordinates":[-75,40,20]},"properties":{"meta":{"updated_at":"2026-11-25T07:30:00Z","units":{"air_temperature":"celsius"}},"timeseries":[` + hoursJSON(40) + `]}}`))
		default:
			http.NotFound(w, r)
		}
	}))
	t.Cleanup(server.Close)
	return server.URL, asked
}

func hoursJSON(n int) string {
	var steps []string
	at := time.Date(2026, 11, 25, 8, 0, 0, 0, time.UTC)
	for i := range n {
		steps = append(steps, fmt.Sprintf(`{"time":%q,"data":{"instant":{"details":{"air_temperature":%d,"relative_humidity":90,"wind_speed":2}},"next_1_hours":{"details":{"precipitation_amount":0.2}}}}`, at.Add(time.Duration(i)*time.Hour).Format(time.RFC3339), i%7-3))
	}
	return strings.Join(steps, ",")
}

func TestWeatherCommandsHaveHelpWithAnExample(t *testing.T) {
	for _, name := range []string{"fetch", "forecast", "join", "offset", "convert", "check"} {
		got := haulm("weather", name, "--help")
		if got.code != exitOK || !strings.Contains(got.out, "Example: haulm weather "+name) {
			t.Errorf("haulm weather %s --help: code %d, no example in:\n%s", name, got.code, got.out)
		}
	}
}

// A fetched record, written to a file, is a record like any other.
func TestWeatherFetchToAFile(t *testing.T) {
	url, asked := service(t)
	out := filepath.Join(t.TempDir(), "station.csv.gz")
	got := haulm("weather", "fetch", "--lat", "40", "--lon", "-75", "--out", out, "--server", url, "--json")
	if got.code != exitOK {
		t.Fatal(got.err)
	}
	var answer struct {
		Station struct {
			ID         string  `json:"id"`
			DistanceKM float64 `json:"distance_km"`
		} `json:"station"`
		Record struct {
			Days int     `json:"days"`
			Lat  float64 `json:"lat"`
		} `json:"record"`
	}
	if err := json.Unmarshal([]byte(got.out), &answer); err != nil || answer.Station.ID != "USW00000001" || answer.Station.DistanceKM < 11 || answer.Record.Days != 4383 || answer.Record.Lat != 40.1 {
		t.Errorf("%v: %s", err, got.out)
	}
	n := len(*asked)
	if again := haulm("weather", "fetch", "--lat", "40", "--lon", "-75", "--out", out, "--server", url); again.code != exitOK || len(*asked) != n {
		t.Errorf("asked %d times more for what is kept; %s", len(*asked)-n, again.err)
	}
	if frost := haulm("frost", "--record", out); frost.code != exitOK || !strings.Contains(frost.out, "12 years") {
		t.Errorf("%s%s", frost.out, frost.err)
	}
	if list := haulm("weather", "fetch", "--list", "--lat", "40", "--lon", "-75", "--server", url); list.code != exitOK || !strings.Contains(list.out, "SOMEWHERE AP, PA") {
		t.Errorf("%s%s", list.out, list.err)
	}
}

// Kept with the garden, the garden grows in it.
func TestWeatherFetchIntoTheGarden(t *testing.T) {
	url, _ := service(t)
	file := filepath.Join(t.TempDir(), "my.haulm")
	got := haulm("weather", "fetch", "--lat", "40", "--lon", "-75", "--server", url, "--garden", file)
	if got.code != exitBad || !strings.Contains(got.err, "no garden yet") {
		t.Fatalf("without a garden: %d %s", got.code, got.err)
	}
	importDemo(t, file)
	got = haulm("weather", "fetch", "--station", "USW00000001", "--server", url, "--garden", file)
	if got.code != exitOK || !strings.Contains(got.out, "kept in the garden") {
		t.Fatalf("%s%s", got.out, got.err)
	}
	if text := haulm("export", "--garden", file); !strings.Contains(text.out, "USW00000001") {
		t.Errorf("%s%s", text.out, text.err)
	}
}

func TestWeatherForecast(t *testing.T) {
	url, asked := service(t)
	for range 3 {
		got := haulm("weather", "forecast", "--lat", "40.123456", "--lon", "-75", "--server", url, "--contact", "me@example.org", "--json")
		var answer struct {
			Days []struct {
				Date  string   `json:"date"`
				TminC *float64 `json:"tmin_c"`
				Whole bool     `json:"whole"`
			} `json:"days"`
		}
		if err := json.Unmarshal([]byte(got.out), &answer); err != nil || len(answer.Days) != 2 || answer.Days[0].Date != "2026-11-25" || answer.Days[0].Whole || *answer.Days[1].TminC != -3 {
			t.Fatalf("%v: %s%s", err, got.out, got.err)
		}
	}
	if len(*asked) != 1 || !strings.Contains((*asked)[0], "me@example.org") {
		t.Errorf("asked %q", *asked)
	}
	if got := haulm("weather", "forecast", "--lat", "40.123456", "--lon", "-75", "--server", url); got.code != exitOK || !strings.Contains(got.out, "MET Norway") {
		t.Errorf("%s%s", got.out, got.err)
	}
}

// shifted is a record of the same days as years, colder by some degrees.
func shifted(from, to int, byC float64) string {
	return strings.Replace(yearsIn(from, to, func(tempC float64) float64 { return tempC + byC }), "# lat: 50\n# lon: 5\n", "# name: Own\n", 1)
}

func TestWeatherJoin(t *testing.T) {
	own, station := write(t, "own.csv", shifted(2011, 2012, -1.5)), write(t, "station.csv", years(2001, 2012))
	out := filepath.Join(t.TempDir(), "garden.csv")
	got := haulm("weather", "join", own, station, "--out", out, "--json")
	var answer struct {
		TminYear struct{ C, Error float64 } `json:"tmin_year"`
		Tmin     []struct{ C float64 }      `json:"tmin"`
	}
	if err := json.Unmarshal([]byte(got.out), &answer); err != nil || len(answer.Tmin) != 12 || answer.TminYear.C > -1.4 || answer.TminYear.C < -1.6 {
		t.Fatalf("%v: %s%s", err, got.out, got.err)
	}
	if record := haulm("record", out); record.code != exitOK || !strings.Contains(record.out, "2001-01-01 to 2012-12-31") {
		t.Errorf("%s%s", record.out, record.err)
	}
	if got := haulm("weather", "join", own, station); got.code != exitOK || !strings.Contains(got.out, "colder") || !strings.Contains(got.out, "Jul") {
		t.Errorf("%s%s", got.out, got.err)
	}
}

func TestWeatherOffset(t *testing.T) {
	// A record with clear and dull nights: the range alternates.
	var text bytes.Buffer
	text.WriteString("# lat: 50\n# lon: 5\ndate,tmin_c,tmax_c,rain_mm\n")
	for d := calendar.On(2001, 1, 1); d < calendar.On(2013, 1, 1); d++ {
		wide := float64(int(d) % 9)
		fmt.Fprintf(&text, "%s,%.1f,%.1f,0\n", d, 8-wide, 10+wide)
	}
	station := write(t, "station.csv", text.String())
	var nights []string
	for d := calendar.On(2012, 4, 1); len(nights) < 6; d++ {
		if int(d)%9 == 8 {
			nights = append(nights, "--night", fmt.Sprintf("%s=%.1f", d, -4.0))
		}
	}
	out := filepath.Join(t.TempDir(), "garden.csv")
	got := haulm(append([]string{"weather", "offset", station, "--place", "frost_pocket", "--out", out, "--json"}, nights...)...)
	var answer struct {
		Before, After struct{ C, Error float64 }
		Nights        []struct{ Clarity float64 }
	}
	if err := json.Unmarshal([]byte(got.out), &answer); err != nil || len(answer.Nights) != 3 || answer.Before.C != -3 || answer.After.C >= -3 || answer.After.C < -4 || answer.After.Error >= answer.Before.Error {
		t.Fatalf("%v: %s%s", err, got.out, got.err)
	}
	if record := haulm("record", out); record.code != exitOK {
		t.Errorf("%s", record.err)
	}
	if got := haulm("weather", "offset", station, "--place", "wall"); got.code != exitOK || !strings.Contains(got.out, "common practice") {
		t.Errorf("%s%s", got.out, got.err)
	}
}

func TestWeatherConvert(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out.csv")
	table := write(t, "table.txt", "Day;Min;Max\n31/01/2001;1,5;9\n01/02/2001;2,5;8\n")
	got := haulm("weather", "convert", table, "--columns", "date_dmy=Day,tmin_c=Min,tmax_c=Max", "--lat", "50", "--lon", "-5", "--out", out)
	if got.code != exitOK {
		t.Fatal(got.err)
	}
	text, err := os.ReadFile(out)
	if err != nil || !strings.Contains(string(text), "2001-01-31,1.5,9") || !strings.Contains(string(text), "# lat: 50") {
		t.Errorf("%v: %s", err, text)
	}
}

func TestWeatherCheck(t *testing.T) {
	record := write(t, "record.csv", years(2001, 2002))
	monthly := write(t, "monthly.txt", "Nowhere\nLocation 1E 2N, Lat 50 Lon 5, 25m amsl\n yyyy  mm   tmax    tmin      af    rain     sun\n 2001   1    4.0   -6.0    31    0.0    ---\n")
	if got := haulm("weather", "check", record, monthly); got.code != exitOK || !strings.Contains(got.out, "1 months") || !strings.Contains(got.out, "air frost") {
		t.Errorf("%s%s", got.out, got.err)
	}
}

// Bad input gets one clear line and asks no service.
func TestWeatherBadInput(t *testing.T) {
	url, asked := service(t)
	record := write(t, "good.csv", years(2001, 2012))
	short := write(t, "short.csv", "date,tmin_c,tmax_c\n2012-01-01,1,2\n")
	for _, c := range []struct {
		name string
		args []string
		want string
	}{
		{"half a place", []string{"fetch", "--lat", "40", "--out", "x.csv"}, "together"},
		{"off the Earth", []string{"fetch", "--lat", "95", "--lon", "0", "--out", "x.csv"}, "latitude"},
		{"no place", []string{"fetch", "--out", "x.csv", "--garden", filepath.Join(t.TempDir(), "none")}, "--lat"},
		{"station that is none", []string{"fetch", "--station", "here", "--out", "x.csv"}, "eleven characters"},
		{"forecast off the Earth", []string{"forecast", "--lat", "5", "--lon", "500"}, "latitude and longitude"},
		{"zone that is none", []string{"forecast", "--lat", "5", "--lon", "5", "--zone", "Moon/Base"}, "Moon/Base"},
		{"too few days", []string{"join", short, record}, "14 are needed"},
		{"over itself", []string{"join", record, record, "--out", record}, "overwrite"},
		{"night that is none", []string{"offset", record, "--night", "cold"}, "2027-04-12=-1.5"},
		{"place that is none", []string{"offset", record, "--place", "swamp"}, "frost_pocket"},
		{"columns that say nothing", []string{"convert", record, "--columns", "x", "--out", "y.csv"}, "--columns"},
		{"several with columns", []string{"convert", record, record, "--columns", "date=d", "--out", "y.csv"}, "one element"},
		{"no series", []string{"check", record, record}, "monthly series"},
	} {
		args := append([]string{"weather"}, c.args...)
		if c.args[0] == "fetch" || c.args[0] == "forecast" {
			args = append(args, "--server", url)
		}
		got := haulm(args...)
		if got.code != exitBad || got.out != "" || !strings.Contains(got.err, c.want) || strings.Count(got.err, "\n") != 1 {
			t.Errorf("%s: code %d, out %q, err %q", c.name, got.code, got.out, got.err)
		}
	}
	if len(*asked) != 0 {
		t.Errorf("asked %q", *asked)
	}
	if got := haulm("weather", "fetch", "--station", "USW00000009", "--out", "x.csv", "--server", url); got.code != exitBad || !strings.Contains(got.err, "USW00000009") {
		t.Errorf("%s", got.err)
	}
}

// importDemo puts the invented garden into a file.
func importDemo(t *testing.T, file string) {
	t.Helper()
	var text bytes.Buffer
	if err := garden.Write(&text, garden.Demo()); err != nil {
		t.Fatal(err)
	}
	if got := haulm("import", write(t, "demo.toml", text.String()), "--garden", file); got.code != exitOK {
		t.Fatal(got.err)
	}
}
