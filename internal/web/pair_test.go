package web

import (
	"context"
	"io"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"haulm/internal/app"
)

// homeSite is a running garden opened in a home network: that of this machine
// alone, so that the test needs no other.
func homeSite(t *testing.T) (pages *Pages, host, code string) {
	t.Helper()
	return homeSiteOf(t, runningDesk(t))
}

func homeSiteOf(t *testing.T, desk *app.Desk) (pages *Pages, host, code string) {
	t.Helper()
	pages = New(desk, Options{})
	t.Cleanup(func() { pages.Stop(context.Background()) })
	pages.privateAddresses = func() ([]net.IP, error) { return []net.IP{net.IPv4(127, 0, 0, 1)}, nil }
	addresses, err := pages.OpenHome()
	if err != nil {
		t.Fatal(err)
	}
	if code, _ = pages.HomeCode(); code == "" {
		t.Fatal("opened without a code")
	}
	return pages, strings.TrimSuffix(strings.TrimPrefix(addresses[0], "http://"), "/"), code
}

// phone is a browser with its cookies, which does not follow redirects.
type phone struct {
	t      *testing.T
	host   string
	client *http.Client
}

func newPhone(t *testing.T, host string) *phone {
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	return &phone{t, host, &http.Client{Jar: jar, Timeout: 20 * time.Second, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}}
}

// ask sends one request; with says what it carries otherwise than a browser.
func (p *phone) ask(method, address string, form url.Values, with func(*http.Request)) (status int, body string) {
	p.t.Helper()
	r, err := http.NewRequest(method, "http://"+p.host+address, strings.NewReader(form.Encode()))
	if err != nil {
		p.t.Fatal(err)
	}
	if method == http.MethodPost {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Origin", "http://"+p.host)
	}
	if with != nil {
		with(r)
	}
	answer, err := p.client.Do(r)
	if err != nil {
		return 0, err.Error()
	}
	defer answer.Body.Close()
	text, _ := io.ReadAll(answer.Body)
	return answer.StatusCode, string(text)
}

func (p *phone) pair(code string) int {
	p.t.Helper()
	status, _ := p.ask(http.MethodPost, "/pair", url.Values{"code": {code}, "name": {"Kitchen phone"}}, nil)
	return status
}

func TestAPhoneIsPairedUsedAndTakenOut(t *testing.T) {
	pages, host, code := homeSite(t)
	ph := newPhone(t, host)
	if status, body := ph.ask(http.MethodGet, "/pair?code="+code, nil, nil); status != http.StatusOK || !strings.Contains(body, `value="`+code+`"`) {
		t.Fatalf("the address of the drawing: %d\n%.400s", status, body)
	}
	if status := ph.pair(strings.ToLower(code[:4]) + " " + code[4:]); status != http.StatusSeeOther {
		t.Fatalf("pairing: status %d", status)
	}
	if status, body := ph.ask(http.MethodGet, "/today", nil, nil); status != http.StatusOK || !strings.Contains(body, "things for today") {
		t.Fatalf("the morning on a paired phone: %d\n%.300s", status, body)
	}
	before, _ := pages.desk.Diary()
	if status, _ := ph.ask(http.MethodPost, "/diary", url.Values{"line": {"rain 4 mm"}}, nil); status != http.StatusSeeOther {
		t.Errorf("writing in the diary by phone: %d", status)
	}
	if after, _ := pages.desk.Diary(); len(after) != len(before)+1 {
		t.Error("the line was not written")
	}
	other := newPhone(t, host)
	if status := other.pair(code); status != http.StatusTooManyRequests {
		t.Errorf("a code used twice: status %d", status)
	}
	phones, err := pages.desk.Phones()
	if err != nil || len(phones) != 1 || phones[0].Name != "Kitchen phone" {
		t.Fatalf("phones: %+v, %v", phones, err)
	}
	if body := get(t, pages, "/home").Body.String(); !strings.Contains(body, "Kitchen phone") || !strings.Contains(body, "not encrypted") {
		t.Errorf("the machine's page does not list the phone:\n%.600s", body)
	}
	if w := post(t, pages, "/home/1/forget", nil); w.Code != http.StatusSeeOther {
		t.Fatalf("taking the phone out: %d", w.Code)
	}
	if w := post(t, pages, "/home/1/forget", nil); w.Code != http.StatusNotFound {
		t.Errorf("taking it out twice: %d", w.Code)
	}
	if status, body := ph.ask(http.MethodGet, "/today", nil, nil); status != http.StatusUnauthorized || !strings.Contains(body, "Pair this phone") {
		t.Errorf("a phone that was taken out: %d", status)
	}
}

func TestThePhoneStaysPairedWhenHaulmStartsAnew(t *testing.T) {
	desk := runningDesk(t)
	pages, host, code := homeSiteOf(t, desk)
	ph := newPhone(t, host)
	if status := ph.pair(code); status != http.StatusSeeOther {
		t.Fatalf("pairing: %d", status)
	}
	pages.Stop(context.Background())
	_, again, _ := homeSiteOf(t, desk)
	if again != host {
		t.Errorf("opened at %s, then at %s: a bookmark breaks", host, again)
	}
	ph.host = again
	if status, _ := ph.ask(http.MethodGet, "/today", nil, nil); status != http.StatusOK {
		t.Errorf("after a new start: %d", status)
	}
}

// Each way in that is refused, by what it would otherwise be let in by.
func TestHomeRefusals(t *testing.T) {
	pages, host, code := homeSite(t)
	paired := newPhone(t, host)
	if status := paired.pair(code); status != http.StatusSeeOther {
		t.Fatalf("pairing: %d", status)
	}
	stranger := newPhone(t, host)
	header := func(name, value string) func(*http.Request) {
		return func(r *http.Request) { r.Header.Set(name, value) }
	}
	note := url.Values{"line": {"rain 4 mm"}}
	for _, c := range []struct {
		name    string
		phone   *phone
		method  string
		address string
		form    url.Values
		with    func(*http.Request)
		want    int
	}{
		{"a stranger's look", stranger, "GET", "/today", nil, nil, 401},
		{"a stranger's look at the garden's text", stranger, "GET", "/garden.toml", nil, nil, 401},
		{"a stranger's look at the phones", stranger, "GET", "/home", nil, nil, 401},
		{"a stranger's deed", stranger, "POST", "/diary", note, nil, 403},
		{"a made-up token", stranger, "GET", "/today", nil, header("Cookie", phoneCookie+"=AAAA"), 401},
		{"an empty token", stranger, "GET", "/today", nil, header("Cookie", phoneCookie+"="), 401},
		{"the style of the page that pairs", stranger, "GET", "/static/haulm.css", nil, nil, 200},
		{"another name for this machine", paired, "GET", "/today", nil, func(r *http.Request) { r.Host = "evil.example" }, 421},
		{"the loopback name by the home network", paired, "GET", "/today", nil, func(r *http.Request) { r.Host = "localhost" }, 421},
		{"another site's deed with our cookie", paired, "POST", "/diary", note, header("Origin", "http://evil.example"), 403},
		{"a deed of hidden origin", paired, "POST", "/diary", note, header("Origin", "null"), 403},
		{"a deed that says no origin", paired, "POST", "/diary", note, func(r *http.Request) { r.Header.Del("Origin") }, 403},
		{"a deed by another port", paired, "POST", "/diary", note, header("Origin", "http://127.0.0.1:1"), 403},
		{"a deed that a browser calls foreign", paired, "POST", "/diary", note, header("Sec-Fetch-Site", "cross-site"), 403},
		{"another site's pairing", stranger, "POST", "/pair", url.Values{"code": {code}}, header("Origin", "http://evil.example"), 403},
		{"a phone that would manage phones", paired, "GET", "/home", nil, nil, 403},
		{"a phone that would make a code", paired, "POST", "/home/code", nil, nil, 403},
		{"a phone that would take one out", paired, "POST", "/home/1/forget", nil, nil, 403},
		{"a phone that would close the door", paired, "POST", "/home/close", nil, nil, 403},
	} {
		lines, _ := pages.desk.Diary()
		status, body := c.phone.ask(c.method, c.address, c.form, c.with)
		if status != c.want {
			t.Errorf("%s: status %d, want %d", c.name, status, c.want)
		}
		if after, _ := pages.desk.Diary(); len(after) != len(lines) {
			t.Errorf("%s wrote in the diary", c.name)
		}
		if c.phone == stranger && strings.Contains(body, "Lowmoor") {
			t.Errorf("%s is told the garden's name", c.name)
		}
	}
	if w := post(t, pages, "/home/close", nil); w.Code != http.StatusSeeOther {
		t.Fatalf("closing: %d", w.Code)
	}
	if status, _ := paired.ask(http.MethodGet, "/today", nil, nil); status != 0 {
		t.Errorf("closed, and a paired phone is answered with %d", status)
	}
	if code, _ := pages.HomeCode(); code != "" {
		t.Error("closed, and a code still holds")
	}
	if w := post(t, pages, "/home/code", nil); w.Code != http.StatusConflict {
		t.Errorf("a code while closed: %d", w.Code)
	}
}

func TestGuessedCodes(t *testing.T) {
	pages, host, code := homeSite(t)
	ph := newPhone(t, host)
	for try, want := range []int{403, 403, 403, 403, 429, 429} {
		if status := ph.pair("AAAAAAAA"); status != want {
			t.Errorf("wrong code %d: status %d, want %d", try+1, status, want)
		}
	}
	if status := ph.pair(code); status != http.StatusTooManyRequests {
		t.Errorf("the right code after too many wrong ones: %d", status)
	}
	if w := post(t, pages, "/home/code", nil); w.Code != http.StatusSeeOther {
		t.Fatalf("a new code: %d", w.Code)
	}
	again, _ := pages.HomeCode()
	if again == code || again == "" {
		t.Fatalf("the new code is %q", again)
	}
	if status := ph.pair(again); status != http.StatusSeeOther {
		t.Errorf("the new code: %d", status)
	}
}

func TestAGardenThatIsOnlyShownIsNotOpened(t *testing.T) {
	pages, _ := site(t, bareDesk(t))
	if w := post(t, pages, "/home/open", nil); w.Code != http.StatusConflict || !strings.Contains(w.Body.String(), "only shown") {
		t.Errorf("status %d", w.Code)
	}
	if w := get(t, pages, "/home"); w.Code != http.StatusOK || !strings.Contains(w.Body.String(), "this machine only") {
		t.Errorf("status %d\n%.300s", w.Code, w.Body)
	}
}

// The blocks are those of RFC 1918; all other addresses stay closed.
func TestOnlyPrivateAddressesAreOpened(t *testing.T) {
	for text, opened := range map[string]bool{
		"192.168.1.7/24": true, "10.0.0.2/8": true, "172.16.4.1/12": true, "172.31.255.1/12": true,
		"172.32.0.1/12": false, "127.0.0.1/8": false, "169.254.10.1/16": false, "8.8.8.8/32": false,
		"fd12:3456::1/64": false, "fe80::1/64": false, "2001:db8::1/64": false,
	} {
		ip, network, err := net.ParseCIDR(text)
		if err != nil {
			t.Fatal(err)
		}
		got := privateOf([]net.Addr{&net.IPNet{IP: ip, Mask: network.Mask}})
		if (len(got) == 1) != opened {
			t.Errorf("%s: opened is %v, want %v", text, len(got) == 1, opened)
		}
	}
}

func TestPairingInABrowser(t *testing.T) {
	desk := runningDesk(t)
	pages, host, _ := homeSiteOf(t, desk)
	_, server := siteOf(t, pages)
	b := openBrowser(t, server.URL)
	showAll(t, b, []string{"/home"})
	_, address := pages.HomeCode()
	b.at = "http://" + host
	showAll(t, b, []string{strings.TrimPrefix(address, b.at)})
	b.open(strings.TrimPrefix(address, b.at), 360)
	b.do(chromedp.Click(chromedp.CSS(`form[action="/pair"] button`)))
	b.await("the morning on the phone", `document.querySelector(".today")`)
	b.open("/diary", 360)
	b.await("the diary", `document.querySelector("#line")`)
}
