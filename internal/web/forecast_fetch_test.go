package web

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"haulm/internal/app"
)

// aForecast is two days of a forecast from a midsummer's morning, as MET Norway
// writes it.
func aForecast() string {
	var steps []string
	for i := range 48 {
		at := midsummer().Add(time.Duration(i) * time.Hour).Format(time.RFC3339)
		steps = append(steps, fmt.Sprintf(`{"time":%q,"data":{"instant":{"details":{"air_temperature":%d.5,"relative_humidity":80.0,"wind_speed":3.2}},"next_1_hours":{"details":{"precipitation_amount":0.1}}}}`, at, 8+i%12))
	}
	return `{"type":"Feature","geometry":{"type":"Point","coordinates":[-6.3,53.4,60]},"properties":{"meta":{"updated_at":"` + midsummer().Add(-time.Hour).Format(time.RFC3339) +
		`","units":{"air_temperature":"celsius","precipitation_amount":"mm","relative_humidity":"%","wind_speed":"m/s"}},"timeseries":[` + strings.Join(steps, ",") + `]}}`
}

func TestTheForecastIsFetchedByAButtonOnly(t *testing.T) {
	var asked atomic.Int64
	var broken atomic.Bool
	service := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		asked.Add(1)
		if broken.Load() {
			http.Error(w, "no", http.StatusForbidden)
			return
		}
		w.Header().Set("Content-Type", "application/json")
		w.Header().Set("Expires", midsummer().Add(time.Hour).Format(http.TimeFormat))
		w.Header().Set("Last-Modified", midsummer().Add(-time.Hour).Format(http.TimeFormat))
		_, _ = w.Write([]byte(aForecast()))
	}))
	t.Cleanup(service.Close)
	desk, folder := runningDesk(t), t.TempDir()
	desk.UseForecasts(folder)
	pages, _ := siteOf(t, New(desk, Options{Network: app.NetworkOptions{METNorway: service.URL, Folder: folder, Now: midsummer}}))
	for _, address := range []string{"/today", "/weather"} {
		if page := get(t, pages, address).Body.String(); !strings.Contains(page, "Fetch the forecast") || !strings.Contains(page, "only when you press it") {
			t.Errorf("%s does not offer the forecast", address)
		}
	}
	if page := get(t, pages, "/today").Body.String(); !strings.Contains(page, "No forecast is at hand: frost and wind cannot be told ahead.") || strings.Contains(page, "No frost, blight or wind") {
		t.Error("a morning without a forecast says that no frost comes")
	}
	if asked.Load() != 0 {
		t.Fatal("the network was asked although nobody pressed anything")
	}
	broken.Store(true)
	if w := post(t, pages, "/weather/forecast", url.Values{"from": {"/today"}}); w.Code != http.StatusBadGateway || !strings.Contains(w.Body.String(), "403") {
		t.Errorf("a service that refuses: %d", w.Code)
	}
	broken.Store(false)
	folder2 := t.TempDir() // a refusal is remembered where copies are kept
	desk.UseForecasts(folder2)
	pages, _ = siteOf(t, New(desk, Options{Network: app.NetworkOptions{METNorway: service.URL, Folder: folder2, Now: midsummer}}))
	if w := post(t, pages, "/weather/forecast", url.Values{"from": {"https://evil.example"}}); w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/today#watch" {
		t.Fatalf("fetching: %d to %q\n%.400s", w.Code, w.Header().Get("Location"), w.Body)
	}
	page := get(t, pages, "/today").Body.String()
	if !strings.Contains(page, "Look for a newer forecast") || !strings.Contains(page, "forecast to 25 June") && !strings.Contains(page, "forecast to 26 June") {
		t.Errorf("the morning does not go by the forecast:\n%s", page[strings.Index(page, "What stands"):])
	}
	for _, want := range []string{"Coldest ahead: <b>8.5 °C on Thursday 24 June</b>", "Fri 25 Jun", "Haulm goes by the forecast of"} {
		if !strings.Contains(page, want) {
			t.Errorf("the morning does not tell %q of the forecast", want)
		}
	}
	if strings.Contains(page, "No forecast is at hand") {
		t.Error("the morning denies the forecast that it goes by")
	}
	n := asked.Load()
	post(t, pages, "/weather/forecast", url.Values{"from": {"/weather"}})
	if asked.Load() != n {
		t.Error("the service was asked again before its answer had expired")
	}
}
