package web

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

func TestOnlyThisMachineIsAnswered(t *testing.T) {
	pages, _ := site(t, bareDesk(t))
	for host, want := range map[string]int{
		"localhost": 200, "localhost:8080": 200, "LOCALHOST.:80": 200, "127.0.0.1:9": 200, "127.8.8.8": 200, "[::1]:8080": 200,
		"evil.example": 421, "evil.example:8080": 421, "192.168.1.4:8080": 421, "localhost.evil.example": 421, "": 421, "[::1": 421,
		"127.0.0.1.evil.example": 421,
	} {
		r := httptest.NewRequest(http.MethodGet, "/crops", nil)
		r.Host = host
		w := httptest.NewRecorder()
		pages.ServeHTTP(w, r)
		if host == "[::1" {
			want = w.Code // brackets that do not close: whatever, so long as it is no crash
		}
		if w.Code != want {
			t.Errorf("Host %q: status %d, want %d", host, w.Code, want)
		}
	}
	r := httptest.NewRequest(http.MethodGet, "/crops", nil)
	r.Host = "garden.local:8080"
	w := httptest.NewRecorder()
	New(bareDesk(t), Options{Hosts: []string{"garden.local"}}).ServeHTTP(w, r)
	if w.Code != http.StatusOK {
		t.Errorf("a host that was named: status %d", w.Code)
	}
}

func TestDeedsOfOtherSitesAreRefused(t *testing.T) {
	pages, _ := site(t, bareDesk(t))
	for _, c := range []struct {
		name, site, origin string
		allowed            bool
	}{
		{"own page", "same-origin", "http://localhost:8080", true},
		{"typed by hand", "none", "", true},
		{"no browser", "", "", true},
		{"older browser, own page", "", "http://localhost:8080", true},
		{"another site", "cross-site", "https://evil.example", false},
		{"another port here", "same-site", "http://localhost:9", false},
		{"older browser, another site", "", "https://evil.example", false},
		{"older browser, hidden origin", "", "null", false},
	} {
		r := httptest.NewRequest(http.MethodPost, "/garden/undo", nil)
		r.Host = "localhost:8080"
		if c.site != "" {
			r.Header.Set("Sec-Fetch-Site", c.site)
		}
		if c.origin != "" {
			r.Header.Set("Origin", c.origin)
		}
		w := httptest.NewRecorder()
		pages.ServeHTTP(w, r)
		if refused := w.Code == http.StatusForbidden; refused == c.allowed {
			t.Errorf("%s: status %d", c.name, w.Code)
		}
	}
}

func TestHeaders(t *testing.T) {
	pages, _ := site(t, bareDesk(t))
	h := get(t, pages, "/crops").Header()
	if !strings.HasPrefix(h.Get("Content-Security-Policy"), "default-src 'self';") || h.Get("X-Content-Type-Options") != "nosniff" {
		t.Errorf("headers: %v", h)
	}
	address, err := staticAddress("haulm.css")
	if err != nil {
		t.Fatal(err)
	}
	w := get(t, pages, address)
	if w.Code != 200 || !strings.Contains(w.Header().Get("Cache-Control"), "immutable") || !strings.HasPrefix(w.Header().Get("Content-Type"), "text/css") {
		t.Errorf("style sheet: %d %v", w.Code, w.Header())
	}
}

func TestNoPageCarriesInlineStyleOrScript(t *testing.T) {
	pages, _ := site(t, plannedDesk(t))
	for _, address := range shownPages {
		page := get(t, pages, address).Body.String()
		for _, forbidden := range []string{" style=", "<style", "javascript:", " onclick="} {
			if strings.Contains(page, forbidden) {
				t.Errorf("%s holds %q, which its own policy forbids", address, forbidden)
			}
		}
	}
}

func TestErrorsSayWhatToDo(t *testing.T) {
	pages, _ := site(t, plannedDesk(t))
	for address, want := range map[string]struct {
		status int
		says   string
	}{
		"/nothing":               {404, "There is no page at /nothing"},
		"/plan/planting/999":     {404, "no planting"},
		"/plan/planting/x":       {404, "no planting"},
		"/crops/leaks-and-drips": {404, "not in the catalogue"},
		"/ground?place=Moon":     {404, "no place called"},
		"/ground?day=soon":       {400, "not a date"},
		"/ground?day=2027-02-31": {400, "no day of the calendar"},
		"/ground/fill": {400, `does not say which place has room.</p>
<p><a href="/ground">Choose the place`},
		"/ground/fill?place=Moon": {404, "no place called"},
		"/weather?at=warm":        {400, "no temperature"},
		"/static/other.css":       {404, "no file"},
		"/crops/leek?day=40":      {200, "is no day of"},
		"/crops/leek?cover=straw": {200, "straw"},
	} {
		w := get(t, pages, address)
		if w.Code != want.status || !strings.Contains(w.Body.String(), want.says) {
			t.Errorf("%s: status %d, want %d and %q", address, w.Code, want.status, want.says)
		}
	}
	if w := post(t, pages, "/plan", map[string][]string{"seconds": {"1e9"}}); w.Code != http.StatusBadRequest {
		t.Errorf("an endless search: status %d", w.Code)
	}
	if w := post(t, pages, "/garden/new", goodForm()); w.Code != http.StatusConflict {
		t.Errorf("a second garden: status %d", w.Code)
	}
	if w := post(t, pages, "/weather", nil); w.Code != http.StatusMethodNotAllowed {
		t.Errorf("sending to a page that takes nothing: status %d", w.Code)
	}
}
