package fetch

import (
	"context"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"haulm/internal/weather"
)

// metJSON is a forecast of the given hours in the layout of MET Norway's
// "General forecast JSON format"; the numbers are made up.
func metJSON(start time.Time, hours int) string {
	var steps []string
	for i := range hours {
		steps = append(steps, fmt.Sprintf(`{"time":%q,"data":{"instant":{"details":{"air_temperature":%d.5,"relative_humidity":80.0,"wind_speed":3.2,"wind_from_direction":200.1}},"next_1_hours":{"summary":{"symbol_code":"rain"},"details":{"precipitation_amount":0.1}},"next_6_hours":{"summary":{"symbol_code":"rain"},"details":{"precipitation_amount":0.6}}}}`,
			start.Add(time.Duration(i)*time.Hour).Format(time.RFC3339), i%24))
	}
	return `{"type":"Feature","geometry":{"type":"Point","coordinates":[5.33,60.39,12]},"properties":{"meta":{"updated_at":"2026-11-25T11:30:00Z","units":{"air_temperature":"celsius","precipitation_amount":"mm","relative_humidity":"%","wind_speed":"m/s"}},"timeseries":[` +
		strings.Join(steps, ",") + `]}}`
}

// serveForecast answers as the service's documentation says.
func serveForecast(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Expires", noon.Add(31*time.Minute).Format(http.TimeFormat))
	w.Header().Set("Last-Modified", noon.Add(-4*time.Minute).Format(http.TimeFormat))
	w.Header().Set("Content-Type", "application/json")
	if r.Header.Get("If-Modified-Since") == noon.Add(-4*time.Minute).Format(http.TimeFormat) {
		w.Header().Set("Expires", noon.Add(70*time.Minute).Format(http.TimeFormat))
		w.WriteHeader(http.StatusNotModified)
		return
	}
	_, _ = w.Write([]byte(metJSON(noon, 48)))
}

var bergen = weather.Site{LatDeg: 60.392049, LonDeg: 5.33, ElevM: 11.6}

func (b *bench) forecast() (*Forecast, error) {
	return b.Forecast(context.Background(), bergen, true, time.UTC)
}

// The terms of service: the User-Agent names the program and a contact,
// coordinates have no more than four decimals.
func TestForecastKeepsToTheTerms(t *testing.T) {
	b := newBench(t, serveForecast)
	got, err := b.forecast()
	if err != nil {
		t.Fatal(err)
	}
	if q := b.last().URL; q.Path != "/compact" || q.RawQuery != "lat=60.392&lon=5.33&altitude=12" {
		t.Errorf("asked for %s", q)
	}
	if agent := b.last().UserAgent(); !strings.HasPrefix(agent, "Haulm/") || !strings.Contains(agent, "gardener@example.org") {
		t.Errorf("User-Agent %q", agent)
	}
	if len(got.Days) != 2 && len(got.Days) != 3 || !got.Asked || got.Stale != nil || got.Deprecated || !got.Expires.Equal(noon.Add(31*time.Minute)) {
		t.Errorf("%+v", got)
	}
	if b.last().Header.Get("Accept-Encoding") != "gzip" {
		t.Errorf("does not ask for it packed: %v", b.last().Header)
	}
}

// Nothing is asked before the answer expires, by this run or the next; then
// with If-Modified-Since, and a 304 renews what is kept.
func TestForecastIsNotPolled(t *testing.T) {
	b := newBench(t, serveForecast)
	if _, err := b.forecast(); err != nil {
		t.Fatal(err)
	}
	b.pass(30 * time.Minute)
	for range 5 {
		got, err := b.forecast()
		if err != nil || got.Asked || len(got.Days) == 0 {
			t.Fatalf("%+v, %v", got, err)
		}
	}
	if got, err := b.run(b.options.Folder).Forecast(context.Background(), bergen, true, time.UTC); err != nil || got.Asked {
		t.Errorf("the next run asked again: %v", err)
	}
	if b.requests() != 1 {
		t.Fatalf("asked %d times before the answer expired", b.requests())
	}
	b.pass(2 * time.Minute)
	got, err := b.forecast()
	if err != nil || b.requests() != 2 || b.last().Header.Get("If-Modified-Since") == "" || !got.Asked || !got.Expires.Equal(noon.Add(70*time.Minute)) || len(got.Days) == 0 {
		t.Errorf("after it: %d requests, %+v, %v", b.requests(), got, err)
	}
	b.pass(30 * time.Minute)
	if _, err := b.forecast(); err != nil || b.requests() != 2 {
		t.Errorf("asked again before the renewed answer expired")
	}
}

// An answer that has expired already, or does not say, is not asked for again
// at once.
func TestForecastWithoutExpires(t *testing.T) {
	for _, c := range []struct {
		expires string
		least   time.Duration
	}{
		{"", unsaidKept}, {"0", unsaidKept}, {noon.Add(-time.Hour).Format(http.TimeFormat), leastKept},
	} {
		b := newBench(t, func(w http.ResponseWriter, _ *http.Request) {
			if c.expires != "" {
				w.Header().Set("Expires", c.expires)
			}
			w.Header().Set("Content-Type", "application/json")
			_, _ = w.Write([]byte(metJSON(noon, 30)))
		})
		got, err := b.forecast()
		if err != nil || !got.Expires.Equal(noon.Add(c.least)) {
			t.Errorf("Expires %q: %v, %v", c.expires, got, err)
		}
	}
}

// A refusal is explained and remembered: nobody is asked again who has said no.
func TestForecastRefusals(t *testing.T) {
	for _, c := range []struct {
		status   int
		after    string
		kind     Kind
		words    string
		requests int           // of the first call
		quiet    time.Duration // how long nothing is asked
	}{
		{403, "", Refused, "--contact", 1, time.Hour},
		{429, "", Busy, "too often", 1, time.Hour},
		{429, "1800", Busy, "12:30", 1, 30 * time.Minute},
		{400, "", BadAnswer, "latitude", 1, time.Hour},
		{422, "", BadAnswer, "latitude", 1, time.Hour},
		{404, "", Missing, "404", 1, time.Hour},
		{500, "", Busy, "trouble", 2, 0},
		{502, "", Busy, "trouble", 2, 0},
	} {
		refuse := true
		b := newBench(t, func(w http.ResponseWriter, r *http.Request) {
			if !refuse {
				serveForecast(w, r)
				return
			}
			if c.after != "" {
				w.Header().Set("Retry-After", c.after)
			}
			w.WriteHeader(c.status)
		})
		_, err := b.forecast()
		wantError(t, err, c.kind, c.words)
		if b.requests() != c.requests {
			t.Errorf("%d: asked %d times", c.status, b.requests())
		}
		refuse = false
		if c.quiet > 0 {
			b.pass(c.quiet - time.Minute)
			_, err = b.forecast()
			wantError(t, err, c.kind, c.words)
			if b.requests() != c.requests {
				t.Errorf("%d: asked again after a refusal", c.status)
			}
			b.pass(2 * time.Minute)
		}
		if _, err := b.forecast(); err != nil {
			t.Errorf("%d: later: %v", c.status, err)
		}
	}
}

// The last forecast stands in where there is no new one, and says why.
func TestForecastStandsIn(t *testing.T) {
	for _, status := range []int{403, 429, 500} {
		fine := true
		b := newBench(t, func(w http.ResponseWriter, r *http.Request) {
			if fine {
				serveForecast(w, r)
				return
			}
			w.WriteHeader(status)
		})
		if _, err := b.forecast(); err != nil {
			t.Fatal(err)
		}
		fine = false
		b.pass(time.Hour)
		for range 2 {
			got, err := b.forecast()
			if err != nil || got.Stale == nil || len(got.Days) == 0 || !got.Fetched.Equal(noon) {
				t.Errorf("%d: %+v, %v", status, got, err)
			}
		}
		if status != 500 && b.requests() != 2 {
			t.Errorf("%d: asked %d times", status, b.requests())
		}
	}
	b := newBench(t, serveForecast)
	_, _ = b.forecast()
	b.server.Close()
	b.pass(time.Hour)
	if got, err := b.forecast(); err != nil || got.Stale == nil || len(got.Days) == 0 {
		t.Errorf("offline: %+v, %v", got, err)
	}
}

func TestForecastOfAVersionThatEnds(t *testing.T) {
	b := newBench(t, func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "application/json")
		w.WriteHeader(http.StatusNonAuthoritativeInfo)
		_, _ = w.Write([]byte(metJSON(noon, 30)))
	})
	if got, err := b.forecast(); err != nil || !got.Deprecated {
		t.Errorf("%+v, %v", got, err)
	}
}

// Answers that are no forecast are named and not kept.
func TestForecastOfBadBodies(t *testing.T) {
	good := metJSON(noon, 30)
	for _, c := range []struct {
		name   string
		handle http.HandlerFunc
		kind   Kind
		words  string
	}{
		{"a page", sends("text/html", "<html>log in</html>"), BadAnswer, "log in"},
		{"no type", sends("", good), BadAnswer, "JSON"},
		{"half", sends("application/json", good[:len(good)/2]), BadAnswer, "JSON"},
		{"not JSON", sends("application/json", "sunny"), BadAnswer, "JSON"},
		{"empty", sends("application/json", ""), BadAnswer, "JSON"},
		{"an empty object", sends("application/json", "{}"), BadAnswer, "place"},
		{"other units", sends("application/json", strings.Replace(good, "celsius", "fahrenheit", 1)), BadAnswer, "fahrenheit"},
		{"too large", sends("application/json", good+strings.Repeat(" ", maxForecast)), TooLarge, "larger"},
		{"too large once unpacked", func(w http.ResponseWriter, _ *http.Request) {
			w.Header().Set("Content-Type", "application/json")
			w.Header().Set("Content-Encoding", "gzip")
			_, _ = w.Write(zipped(strings.Repeat(" ", maxForecast+10)))
		}, TooLarge, "larger"},
		{"cut off", func(w http.ResponseWriter, _ *http.Request) {
			w.Header().Set("Content-Type", "application/json")
			w.Header().Set("Content-Length", "100000")
			_, _ = w.Write([]byte(good[:1000]))
			panic(http.ErrAbortHandler)
		}, Offline, "no answer"},
		{"not changed from nothing", func(w http.ResponseWriter, _ *http.Request) { w.WriteHeader(304) }, BadAnswer, "there is none"},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := newBench(t, c.handle)
			_, err := b.forecast()
			wantError(t, err, c.kind, c.words)
			if kept, _ := filepath.Glob(filepath.Join(b.options.Folder, "forecast*")); len(kept) != 0 {
				t.Errorf("kept %v", kept)
			}
		})
	}
}

func sends(contentType, body string) http.HandlerFunc {
	return func(w http.ResponseWriter, _ *http.Request) {
		w.Header()["Content-Type"] = []string{contentType}
		_, _ = w.Write([]byte(body))
	}
}

// A kept copy that somebody has damaged counts as none.
func TestForecastKeptCopyDamaged(t *testing.T) {
	b := newBench(t, serveForecast)
	_, _ = b.forecast()
	kept, _ := filepath.Glob(filepath.Join(b.options.Folder, "forecast*.json"))
	if err := os.WriteFile(kept[0], []byte("{"), 0o644); err != nil {
		t.Fatal(err)
	}
	if got, err := b.forecast(); err != nil || len(got.Days) == 0 || b.last().Header.Get("If-Modified-Since") != "" {
		t.Errorf("%+v, %v", got, err)
	}
}

func TestForecastOffTheEarth(t *testing.T) {
	b := newBench(t, serveForecast)
	if _, err := b.Forecast(context.Background(), weather.Site{LatDeg: 95}, false, time.UTC); err == nil || b.requests() != 0 {
		t.Errorf("%v", err)
	}
}

func TestDecimals(t *testing.T) {
	for deg, want := range map[float64]string{60.392049: "60.392", -0.00001: "0", 5: "5", -74.00597: "-74.006", 51.12345678: "51.1235"} {
		if got := decimals(deg); got != want {
			t.Errorf("%v: %s, want %s", deg, got, want)
		}
	}
}
