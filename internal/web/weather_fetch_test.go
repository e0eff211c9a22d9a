package web

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"haulm/internal/app"
	"haulm/internal/calendar"
	"haulm/internal/garden"
)

// ncei answers as NCEI's folder of daily records does (GHCN-Daily readme,
// sections II, IV and VII), with made-up stations around the demonstration
// garden.
type ncei struct {
	*httptest.Server
	asked  atomic.Int32
	broken atomic.Bool   // it refuses to serve
	hold   chan struct{} // where not nil, answers wait for it
}

func newNCEI(t *testing.T) *ncei {
	t.Helper()
	n := &ncei{}
	n.Server = httptest.NewServer(http.HandlerFunc(n.serve))
	t.Cleanup(n.Close)
	return n
}

func (n *ncei) serve(w http.ResponseWriter, r *http.Request) {
	n.asked.Add(1)
	if n.hold != nil {
		select {
		case <-n.hold:
		case <-r.Context().Done():
			return
		}
	}
	if n.broken.Load() {
		http.Error(w, "no", http.StatusForbidden)
		return
	}
	near, hill := "EI000000001", "EI000000002"
	switch r.URL.Path {
	case "/ghcnd-inventory.txt":
		for _, id := range []string{near, hill} {
			for _, element := range []string{"TMAX", "TMIN", "PRCP"} {
				fmt.Fprintf(w, "%-11s %8.4f %9.4f %-4s %4d %4d\n", id, 53.43, -6.24, element, 1997, 2026)
			}
		}
	case "/ghcnd-stations.txt":
		fmt.Fprintf(w, "%-11s %8.4f %9.4f %6.1f %-2s %-30s %3s %3s %5s\n", near, 53.43, -6.24, 71.0, "", "NEAR FIELD", "", "", "")
		fmt.Fprintf(w, "%-11s %8.4f %9.4f %6.1f %-2s %-30s %3s %3s %5s\n", hill, 53.43, -6.24, 400.0, "", "HIGH MOOR", "", "", "")
	case "/by_station/" + near + ".csv.gz":
		_, _ = w.Write(byStation(near))
	default:
		http.NotFound(w, r)
	}
}

// byStation is thirty mild years of a station.
func byStation(id string) []byte {
	var packed bytes.Buffer
	z := gzip.NewWriter(&packed)
	for d := calendar.On(1997, 1, 1); d < calendar.On(2027, 1, 1); d++ {
		day, warm := d.Format("20060102"), 10*(8-7*cosYear(d))
		fmt.Fprintf(z, "%s,%s,TMAX,%.0f,,,W,\n%s,%s,TMIN,%.0f,,,W,\n%s,%s,PRCP,20,,,W,\n", id, day, warm+40, id, day, warm-40, id, day)
	}
	z.Close()
	return packed.Bytes()
}

// fetchingSite is a kept garden whose network is the test's own server.
func fetchingSite(t *testing.T, n *ncei) *Pages {
	t.Helper()
	desk := keptDesk(t)
	if err := desk.SaveGarden(garden.Demo()); err != nil {
		t.Fatal(err)
	}
	pages := New(desk, Options{Network: app.NetworkOptions{NCEI: n.URL, Folder: t.TempDir(), Now: today}})
	t.Cleanup(func() { pages.fetcher.halt() })
	return pages
}

// settle waits until nothing is fetched any more.
func settle(t *testing.T, pages *Pages) {
	t.Helper()
	for end := time.Now().Add(20 * time.Second); pages.fetcher.now().Running; time.Sleep(5 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatal("still fetching after 20 seconds")
		}
	}
}

func TestANearerStationIsFetchedAndKept(t *testing.T) {
	n := newNCEI(t)
	pages := fetchingSite(t, n)
	if page := get(t, pages, "/weather").Body.String(); !strings.Contains(page, "Look for a nearer station") {
		t.Error("the weather page does not offer to look")
	}
	get(t, pages, "/weather/fetch")
	if n.asked.Load() != 0 {
		t.Fatal("the network was asked although nobody pressed anything")
	}
	if w := post(t, pages, "/weather/fetch", nil); w.Header().Get("Location") != "/weather/fetch" {
		t.Fatalf("looking: %d", w.Code)
	}
	settle(t, pages)
	page := get(t, pages, "/weather/fetch").Body.String()
	for _, want := range []string{"NEAR FIELD", "at your height", "HIGH MOOR", "higher", "1997 to 2026", "Fetch its record"} {
		if !strings.Contains(page, want) {
			t.Errorf("the list lacks %q", want)
		}
	}
	post(t, pages, "/weather/fetch/record", url.Values{"station": {"EI000000001"}})
	settle(t, pages)
	page = get(t, pages, "/weather/fetch").Body.String()
	if !strings.Contains(page, "30 of 30 fit to grow through") || !strings.Contains(page, "Grow the garden through this record") {
		t.Fatalf("the record is not told of:\n%s", page[strings.Index(page, "<main"):])
	}
	if g, _ := pages.desk.Garden(); g.WeatherRef != builtIn {
		t.Error("the record is used before anybody said so")
	}
	if w := post(t, pages, "/weather/fetch/keep", nil); w.Header().Get("Location") != "/garden/ready" {
		t.Fatalf("keeping: %d %s", w.Code, w.Body)
	}
	if g, _ := pages.desk.Garden(); g.WeatherRef != "EI000000001" {
		t.Errorf("the garden's weather is %q", g.WeatherRef)
	}
	if page := get(t, pages, "/weather").Body.String(); !strings.Contains(page, "<b>Measured</b>") {
		t.Error("the weather page still tells of an estimate")
	}
}

func TestWhatTheNetworkRefusesIsSaid(t *testing.T) {
	n := newNCEI(t)
	pages := fetchingSite(t, n)
	n.broken.Store(true)
	post(t, pages, "/weather/fetch", nil)
	settle(t, pages)
	page := get(t, pages, "/weather/fetch").Body.String()
	if !strings.Contains(page, "It did not come") || !strings.Contains(page, "NCEI:") || !strings.Contains(page, "Look for a nearer station") {
		t.Errorf("a refusal is not said:\n%s", page[strings.Index(page, "<main"):])
	}
	n.broken.Store(false)
	post(t, pages, "/weather/fetch", nil)
	settle(t, pages)
	if page := get(t, pages, "/weather/fetch").Body.String(); !strings.Contains(page, "NEAR FIELD") || strings.Contains(page, "It did not come") {
		t.Error("trying again does not help")
	}
	post(t, pages, "/weather/fetch/record", url.Values{"station": {"EI000000002"}}) // has no file
	settle(t, pages)
	if page := get(t, pages, "/weather/fetch").Body.String(); !strings.Contains(page, "It did not come") || !strings.Contains(page, "NEAR FIELD") {
		t.Error("a record that is not there is not said, or the list is lost")
	}
	for form, want := range map[string]int{"": 400, "station=../../etc": 303} {
		v, _ := url.ParseQuery(form)
		if w := post(t, pages, "/weather/fetch/record", v); w.Code != want {
			t.Errorf("%q: status %d", form, w.Code)
		}
	}
	settle(t, pages)
	if page := get(t, pages, "/weather/fetch").Body.String(); !strings.Contains(page, "no GHCN station") {
		t.Error("a station that is none is not said")
	}
	if w := post(t, pages, "/weather/fetch/keep", nil); w.Code != http.StatusNotFound {
		t.Errorf("keeping what never came: %d", w.Code)
	}
}

func TestATransferIsWatchedAndStopped(t *testing.T) {
	n := newNCEI(t)
	n.hold = make(chan struct{})
	pages := fetchingSite(t, n)
	post(t, pages, "/weather/fetch", nil)
	page := get(t, pages, "/weather/fetch").Body.String()
	if !strings.Contains(page, `<noscript><meta http-equiv="refresh" content="2">`) || !strings.Contains(page, "Stop") {
		t.Error("a transfer under way is not shown, or does not ask again without script")
	}
	r := httptest.NewRequest(http.MethodGet, "/weather/fetch", nil)
	r.Header.Set("Accept", "application/json")
	var state struct {
		Running bool
		Share   int
	}
	if err := json.Unmarshal(send(pages, r).Body.Bytes(), &state); err != nil || !state.Running || state.Share != -1 {
		t.Errorf("as data: %+v, %v", state, err)
	}
	post(t, pages, "/weather/fetch/stop", nil)
	settle(t, pages)
	if page := get(t, pages, "/weather/fetch").Body.String(); strings.Contains(page, "It did not come") {
		t.Error("stopping is shown as a fault")
	}
}
