package web

import (
	"context"
	"fmt"
	"net/http"
	"time"

	"haulm/internal/app"
	"haulm/internal/garden"
)

// forecastTime is how long a page waits for a forecast.
const forecastTime = 25 * time.Second

// forecastForm is the button that fetches the forecast, with what it does.
type forecastForm struct {
	From  string // the page to go back to
	Says  string // of the forecast that is gone by; "" = none
	Place string // as it is sent
}

func (p *Pages) forecastForm(g *garden.Garden, from string) forecastForm {
	form := forecastForm{From: from, Place: fmt.Sprintf("%.4f, %.4f, %.0f m", g.Site.LatDeg, g.Site.LonDeg, g.Site.ElevM)}
	if f := p.desk.KeptForecast(); f != nil {
		form.Says = fmt.Sprintf("The forecast of %s is gone by, from %s.", f.Made.In(p.desk.Now().Location()).Format("15:04 on 2 January"), f.Source)
	}
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
	return seeOther(w, r, page+"#forecast")
}
