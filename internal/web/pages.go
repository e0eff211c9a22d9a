package web

import (
	"context"
	"net/http"
	"sync"

	"haulm/internal/app"
)

// Options say how the pages are served.
type Options struct {
	// Hosts are further host names, besides the loopback ones, by which the
	// pages may be called: the machine's own name on a home network.
	Hosts []string
	// Network says how stations' records are asked for, when somebody asks.
	Network app.NetworkOptions
}

// Pages is the whole site for one open garden. It is an http.Handler.
type Pages struct {
	desk     *app.Desk
	handler  http.Handler
	planner  *planner
	uploads  *uploads
	fetcher  *fetcher
	pictures pictures
	atlas    app.Atlas
	mornings mornings

	mu     sync.Mutex
	report *recordReport // of the record read last
}

// New makes the pages of a desk. Stop them when done, or Serve them.
func New(desk *app.Desk, options Options) *Pages {
	p := &Pages{desk: desk, uploads: newUploads(), fetcher: &fetcher{network: options.Network}}
	p.planner = newPlanner(desk)
	p.handler = guard(p.routes(), options.Hosts)
	return p
}

// ServeHTTP answers one request.
func (p *Pages) ServeHTTP(w http.ResponseWriter, r *http.Request) { p.handler.ServeHTTP(w, r) }

// Stop ends a search for a plan that is still going on; the best plan so far
// is kept. A transfer that is under way is dropped. It returns when that is
// done or ctx ends.
func (p *Pages) Stop(ctx context.Context) {
	p.fetcher.halt()
	p.planner.close(ctx)
}

// action is one page or deed. An error becomes an error page.
type action func(w http.ResponseWriter, r *http.Request) error

func (p *Pages) routes() http.Handler {
	mux := http.NewServeMux()
	for pattern, act := range map[string]action{
		"GET /{$}":                   p.homeShow,
		"POST /garden/new":           p.gardenCreate,
		"POST /garden/demo":          p.gardenDemo,
		"GET /garden/ready":          p.gardenReady,
		"GET /garden":                p.gardenEdit,
		"POST /garden":               p.gardenSave,
		"POST /garden/import":        p.gardenImport,
		"POST /garden/undo":          p.gardenUndo,
		"GET /garden.toml":           p.gardenExport,
		"GET /plan":                  p.planShow,
		"POST /plan":                 p.planMake,
		"POST /plan/stop":            p.planStop,
		"GET /plan/progress":         p.planWatch,
		"GET /plan.json":             p.planExport,
		"GET /plan/planting/{no}":    p.plantingShow,
		"GET /table":                 p.tableShow,
		"GET /ground":                p.groundShow,
		"GET /weather":               p.weatherShow,
		"GET /places.json":           p.placeFind,
		"GET /today":                 p.todayShow,
		"POST /today/done":           p.todayDone,
		"POST /today/skip":           p.todaySkip,
		"POST /today/water":          p.todayWater,
		"GET /calendar.ics":          p.calendarExport,
		"GET /ground/fill":           p.groundFill,
		"POST /today/quiet":          p.todayQuiet,
		"GET /diary":                 p.diaryShow,
		"POST /diary":                p.diaryWrite,
		"POST /diary/tap":            p.diaryTap,
		"POST /diary/undo":           p.diaryUndo,
		"GET /diary/{id}":            p.diaryEdit,
		"POST /diary/{id}":           p.diarySave,
		"POST /diary/{id}/remove":    p.diaryRemove,
		"GET /weather/fetch":         p.fetchShow,
		"POST /weather/fetch":        p.fetchLook,
		"POST /weather/fetch/record": p.fetchRecord,
		"POST /weather/fetch/stop":   p.fetchStop,
		"POST /weather/fetch/keep":   p.fetchKeep,
		"GET /crops":                 p.cropList,
		"GET /crops/{key}":           p.cropShow,
		"GET /static/{name}":         p.staticShow,
		"GET /favicon.ico":           p.iconShow,
		"GET /garden/weather-help":   p.recordHelp,
	} {
		mux.Handle(pattern, p.page(act))
	}
	mux.Handle("/", p.page(p.nowhere))
	return mux
}
