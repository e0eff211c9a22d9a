package fetch

import (
	"bytes"
	"encoding/json"
	"net/http"
	"os"
	"time"

	"haulm/internal/forecast"
	"haulm/internal/weather"
)

// keptForecast is the last answer for a place and when to ask again.
type keptForecast struct {
	LastModified string    `json:"last_modified,omitempty"`
	Fetched      time.Time `json:"fetched"`
	NotBefore    time.Time `json:"not_before"`
	Deprecated   bool      `json:"deprecated,omitempty"`
	Refused      string    `json:"refused,omitempty"` // what the service said when it refused
	Kind         Kind      `json:"kind,omitempty"`

	forecast *forecast.Forecast
}

// keptForecast reads what is kept for a question; what cannot be read counts
// as nothing, but a refusal is remembered.
func (c *Client) keptForecast(q question, zone *time.Location) keptForecast {
	var kept keptForecast
	text, err := os.ReadFile(c.forecastPath(q) + noteSuffix)
	if err != nil || json.Unmarshal(text, &kept) != nil {
		return keptForecast{}
	}
	body, err := os.ReadFile(c.forecastPath(q))
	if err == nil {
		kept.forecast, err = forecast.Read(bytes.NewReader(body), zone)
	}
	if err != nil && kept.Refused == "" {
		return keptForecast{}
	}
	return kept
}

// KeptForecast is the last forecast that came for a site, its days those of
// zone; nil where none is kept. The service is not asked.
func (c *Client) KeptForecast(site weather.Site, hasHeight bool, zone *time.Location) *Forecast {
	kept := c.keptForecast(newQuestion(site, hasHeight), zone)
	if kept.forecast == nil {
		return nil
	}
	return kept.answer(false, kept.trouble())
}

// hold notes how long an answer holds.
func (k *keptForecast) hold(h http.Header, now time.Time) {
	k.Fetched, k.Refused, k.Kind = now, "", 0
	k.NotBefore = now.Add(unsaidKept)
	if expires, err := http.ParseTime(h.Get("Expires")); err == nil {
		k.NotBefore = expires
	}
	if least := now.Add(leastKept); k.NotBefore.Before(least) {
		k.NotBefore = least
	}
	if modified := h.Get("Last-Modified"); modified != "" {
		k.LastModified = modified
	}
}

// keep writes the note, and the body where there is a new one.
func (c *Client) keep(q question, k *keptForecast, body []byte) error {
	path := c.forecastPath(q)
	if body != nil {
		if err := os.WriteFile(path, body, 0o644); err != nil {
			return disk(metName, err)
		}
	}
	return writeNote(path, metName, k)
}

// trouble is the refusal that is remembered, nil where there was none.
func (k *keptForecast) trouble() error {
	if k.Refused == "" {
		return nil
	}
	return &Error{Kind: k.Kind, Service: metName, Until: k.NotBefore, What: k.Refused + "; the service is not asked again before " + k.NotBefore.Format("15:04 on 2 January")}
}

func (k *keptForecast) answer(asked bool, stale error) *Forecast {
	return &Forecast{Forecast: k.forecast, Fetched: k.Fetched, Expires: k.NotBefore, Asked: asked, Deprecated: k.Deprecated, Stale: stale}
}

// ForecastName is the file, within a client's folder, that keeps the forecast
// for a site as it came.
func ForecastName(site weather.Site, hasHeight bool) string { return newQuestion(site, hasHeight).name }

// NoteName is the file that keeps beside another when it was fetched.
func NoteName(name string) string { return name + noteSuffix }
