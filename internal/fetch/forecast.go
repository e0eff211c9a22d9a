package fetch

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"haulm/internal/forecast"
	"haulm/internal/weather"
)

// MET Norway's terms of service and its guide to Locationforecast ask that a
// program names itself and a contact in the User-Agent, gives no more than
// four decimals of a coordinate, keeps an answer until it Expires, then asks
// with If-Modified-Since, does not ask by a clock, and stops when it is told
// to with 403 or 429.
const (
	metName     = "MET Norway"
	maxForecast = 8 << 20 // an answer has some 100 kB

	// leastKept: even an answer that has expired already is not asked for
	// again at once; unsaidKept: nor is one that does not say. Project rules.
	leastKept  = 10 * time.Minute
	unsaidKept = time.Hour
	// banned is how long a refusal is remembered where the service does not say.
	banned = time.Hour
	// forecastTries is low: a forecast can wait, the service should not.
	forecastTries = 2
)

// Forecast is a forecast and what is known of it.
type Forecast struct {
	*forecast.Forecast
	Fetched    time.Time // when the service last said that it holds
	Expires    time.Time // the service is not asked again before
	Asked      bool      // the service was asked just now
	Deprecated bool      // the service announces that this version ends: Haulm is to be updated
	Stale      error     // why an old forecast stands in; nil where it need not
}

// Forecast gives the forecast for a site, its days those of zone. It asks the
// service only if the last answer has expired.
func (c *Client) Forecast(ctx context.Context, site weather.Site, hasHeight bool, zone *time.Location) (*Forecast, error) {
	if !site.OnEarth() {
		return nil, fmt.Errorf("%g, %g is no latitude and longitude", site.LatDeg, site.LonDeg)
	}
	c.busy.Lock()
	defer c.busy.Unlock()
	if err := os.MkdirAll(c.options.Folder, 0o755); err != nil {
		return nil, disk(metName, err)
	}
	q := newQuestion(site, hasHeight)
	kept := c.keptForecast(q, zone)
	now := c.options.Now()
	if kept.NotBefore.After(now) {
		if kept.forecast != nil {
			return kept.answer(false, kept.trouble()), nil
		}
		if kept.Refused != "" {
			return nil, kept.trouble()
		}
	}
	var err error
	ask := func() error { err = c.askForecast(ctx, q, &kept, zone); return err }
	if c.again(ctx, "the forecast", forecastTries, ask) == nil {
		return kept.answer(true, nil), nil
	}
	if kept.forecast != nil && ctx.Err() == nil {
		return kept.answer(true, err), nil
	}
	return nil, err
}

// question is what is asked for, already rounded.
type question struct {
	query string
	name  string
}

func newQuestion(site weather.Site, hasHeight bool) question {
	lat, lon := decimals(site.LatDeg), decimals(site.LonDeg)
	q := question{query: "lat=" + lat + "&lon=" + lon, name: "forecast_" + lat + "_" + lon}
	if hasHeight {
		height := strconv.Itoa(int(math.Round(min(max(site.ElevM, -500), weather.HighestM))))
		q.query += "&altitude=" + height
		q.name += "_" + height
	}
	q.name += ".json"
	return q
}

// decimals writes a coordinate with at most four decimals: some ten metres. The
// nought added turns −0 into 0.
func decimals(deg float64) string {
	return strconv.FormatFloat(math.Round(deg*1e4)/1e4+0, 'f', -1, 64)
}

// askForecast makes one request and brings kept up to date.
func (c *Client) askForecast(ctx context.Context, q question, kept *keptForecast, zone *time.Location) error {
	header := http.Header{"Accept": {"application/json"}}
	if kept.forecast != nil && kept.LastModified != "" {
		header.Set("If-Modified-Since", kept.LastModified)
	}
	answer, done, err := c.get(ctx, c.options.METNorway+"/compact?"+q.query, header)
	if err != nil {
		return unanswered(metName, err)
	}
	defer done()
	defer answer.Body.Close()
	switch answer.StatusCode {
	case http.StatusOK, http.StatusNonAuthoritativeInfo:
		return c.takeForecast(answer, q, kept, zone)
	case http.StatusNotModified:
		if kept.forecast == nil {
			return badAnswer(metName, "says that the forecast has not changed, but there is none; try again", nil)
		}
		kept.hold(answer.Header, c.options.Now())
		return c.keep(q, kept, nil)
	}
	refused := c.forecastRefusal(answer)
	if refused.Kind != Busy || answer.StatusCode == http.StatusTooManyRequests {
		kept.NotBefore, kept.Refused, kept.Kind = c.options.Now().Add(banned), refused.What, refused.Kind
		if refused.Until.After(c.options.Now()) {
			kept.NotBefore = refused.Until
		}
		refused.Until = kept.NotBefore
		if err := c.keep(q, kept, nil); err != nil {
			return err
		}
	}
	return refused
}

// forecastRefusal explains a refusal in this service's own terms.
func (c *Client) forecastRefusal(answer *http.Response) *Error {
	e := refusal(metName, "the forecast", answer, c.options.Now())
	switch answer.StatusCode {
	case http.StatusForbidden:
		e.What = fmt.Sprintf("refuses the forecast (403). Its terms want to know whom to ask when something goes wrong; Haulm named %q. Give a mail address or page of your own with --contact. Haulm does not ask again for an hour", c.options.Contact)
	case http.StatusTooManyRequests:
		e.What = "says that it has been asked too often (429) from this connection" + waitWords(e.Until, c.options.Now()) + ". Haulm keeps to that and goes on with the forecast it has"
	case http.StatusBadRequest, http.StatusUnprocessableEntity:
		e.What = fmt.Sprintf("has no forecast for this place (%d); check latitude and longitude", answer.StatusCode)
	}
	return e
}

// takeForecast reads a whole answer; only one that can be read is kept.
func (c *Client) takeForecast(answer *http.Response, q question, kept *keptForecast, zone *time.Location) error {
	if !strings.Contains(strings.ToLower(answer.Header.Get("Content-Type")), "json") {
		return badAnswer(metName, fmt.Sprintf("sent %q where a forecast in JSON was asked for; does this network want you to log in first?", answer.Header.Get("Content-Type")), nil)
	}
	if answer.ContentLength > maxForecast {
		return tooLarge(metName, "the forecast", maxForecast)
	}
	text, err := io.ReadAll(io.LimitReader(answer.Body, maxForecast+1))
	switch {
	case len(text) > maxForecast:
		return tooLarge(metName, "the forecast", maxForecast)
	case err != nil:
		return unanswered(metName, fmt.Errorf("the forecast broke off: %w", err))
	}
	read, err := forecast.Read(bytes.NewReader(text), zone)
	if err != nil {
		return badAnswer(metName, "sent a forecast that cannot be read: "+err.Error(), err)
	}
	kept.forecast, kept.Deprecated = read, answer.StatusCode == http.StatusNonAuthoritativeInfo
	kept.hold(answer.Header, c.options.Now())
	return c.keep(q, kept, text)
}

func (c *Client) forecastPath(q question) string { return filepath.Join(c.options.Folder, q.name) }
