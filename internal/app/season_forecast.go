package app

import (
	"time"

	"haulm/internal/fetch"
	"haulm/internal/garden"
	"haulm/internal/season"
)

// UseForecasts lets mornings go by the forecasts that were fetched into a
// folder; "" is the system's place for such. Nothing is fetched by a morning,
// and a system without such a place has none.
func (d *Desk) UseForecasts(folder string) {
	client, err := Network(NetworkOptions{Folder: folder, Now: d.now})
	if err != nil {
		return
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	d.forecasts = client
}

// KeptForecast is the forecast that was last fetched for the garden's place,
// nil where there is none or it is too old to go by.
func (d *Desk) KeptForecast() *fetch.Forecast {
	d.mu.Lock()
	g, client := d.garden, d.forecasts
	d.mu.Unlock()
	if g == nil || client == nil {
		return nil
	}
	return freshForecast(client, g, d.now())
}

func freshForecast(client *fetch.Client, g *garden.Garden, now time.Time) *fetch.Forecast {
	f := client.KeptForecast(g.Site, true, now.Location())
	if f == nil {
		f = client.KeptForecast(g.Site, false, now.Location())
	}
	fresh := time.Duration(season.Rules().Value("forecast.fresh_hours") * float64(time.Hour))
	if f == nil || now.Sub(f.Made) > fresh && now.Sub(f.Fetched) > fresh {
		return nil
	}
	return f
}
