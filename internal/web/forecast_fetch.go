package web

import (
	"context"
	"fmt"
	"net/http"
	"strings"
	"time"

	"haulm/internal/app"
	"haulm/internal/garden"
)

// forecastTime is how long a page waits for a forecast.
const forecastTime = 25 * time.Second

// forecastForm is the button that fetches the forecast, with what it does and
// what the last one says.
type forecastForm struct {
	From    string // the page to go back to
	Says    string // of the forecast that Haulm goes by; "" = none
	Place   string // as it is sent
	Coldest string // the coldest day ahead
	Days    []forecastDay
	Open    bool // the days are shown at once
}

func (p *Pages) forecastForm(g *garden.Garden, from string) forecastForm {
	place := fmt.Sprintf("%.4f, %.4f, %.0f m", g.Site.LatDeg, g.Site.LonDeg, g.Site.ElevM)
	form := forecastForm{From: from, Place: strings.ReplaceAll(place, "-", "−"), Open: from == "/weather"}
	f := p.desk.KeptForecast()
	if f == nil {
		return form
	}
	form.Says = fmt.Sprintf("Haulm goes by the forecast of %s (%s).", f.Made.In(p.desk.Now().Location()).Format("15:04 on 2 January"), f.Source)
	form.Coldest, form.Days = coldest(f.Days, p.desk.Today(), units(g)), forecastDays(f.Days, p.desk.Today(), units(g))
	return form
}

// forecastFetch asks for the forecast, because somebody pressed the button. The
// service is not asked again before its last answer has expired.
func (p *Pages) forecastFetch(w http.ResponseWriter, r *http.Request) error {
	page := backTo(r, "/today", "/weather")
	g, err := p.desk.Garden()
	if err != nil {
		return err
	}
	client, err := app.Network(p.fetcher.network)
	if err != nil {
		return err
	}
	ctx, cancel := context.WithTimeout(r.Context(), forecastTime)
	defer cancel()
	if _, err := app.FetchForecast(ctx, client, g.Site, true, p.desk.Now().Location()); err != nil {
		return &trouble{http.StatusBadGateway, err.Error(), "The pages go by what they had. Try again later.", page}
	}
	if page == "/today" {
		return seeOther(w, r, "/today#watch") // what came of it stands there
	}
	return seeOther(w, r, page+"#forecast")
}
