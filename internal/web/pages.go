package web

import (
	"context"
	"net"
	"net/http"
	"sync"

	"haulm/internal/app"
	"haulm/internal/season"
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
	asker    *asker
	uploads  *uploads
	fetcher  *fetcher
	pictures pictures
	atlas    app.Atlas
	mornings look[*season.State]
	home     homeNetwork

	privateAddresses func() ([]net.IP, error) // of this machine
	rests            rests
	goings           look[*app.Going]

	mu     sync.Mutex
	report *recordReport // of the record read last
}

// New makes the pages of a desk. Stop them when done, or Serve them.
func New(desk *app.Desk, options Options) *Pages {
	p := &Pages{desk: desk, uploads: newUploads(), fetcher: &fetcher{network: options.Network}}
	p.planner = newPlanner(desk)
	p.asker = &asker{desk: desk}
	p.home.codes, p.privateAddresses = &app.Codes{Now: desk.Now}, privateAddresses
	routes := p.routes()
	own, home := guard(routes, options.Hosts), p.guardHome(routes)
	p.handler = http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if fromHome(r) {
			home.ServeHTTP(w, r)
			return
		}
		own.ServeHTTP(w, r)
	})
	return p
}

// ServeHTTP answers one request.
func (p *Pages) ServeHTTP(w http.ResponseWriter, r *http.Request) { p.handler.ServeHTTP(w, r) }

// Stop ends a search for a plan that is still going on; the best plan so far
// is kept. A transfer that is under way is dropped. It returns when that is
// done or ctx ends.
func (p *Pages) Stop(ctx context.Context) {
	p.CloseHome()
	p.fetcher.halt()
	p.planner.close(ctx)
	p.asker.halt(ctx)
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
		"GET /everything.zip":        p.everythingExport,
		"GET /plan":                  p.planShow,
		"POST /plan":                 p.planMake,
		"POST /plan/stop":            p.planStop,
		"GET /plan/progress":         p.planWatch,
		"GET /plan.json":             p.planExport,
		"GET /plan/questions":        p.askShow,
		"POST /plan/questions":       p.askPut,
		"POST /plan/questions/stop":  p.askStop,
		"GET /plan/planting/{no}":    p.plantingShow,
		"GET /plan/rest":             p.restShow,
		"POST /plan/rest":            p.restMake,
		"POST /plan/rest/accept":     p.restAccept,
		"POST /plan/rest/leave":      p.restLeave,
		"POST /plan/undo":            p.planUndo,
		"POST /plan/keep":            p.planKeep,
		"POST /plan/let-go":          p.planLetGo,
		"POST /plan/ban":             p.planBan,
		"GET /plan/simpler":          p.simplerShow,
		"POST /plan/simpler":         p.simplerTake,
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
		"POST /ground/fill":          p.groundEnter,
		"POST /ground/fill/undo":     p.groundEnterUndo,
		"POST /today/quiet":          p.todayQuiet,
		"GET /diary":                 p.diaryShow,
		"POST /diary":                p.diaryWrite,
		"POST /diary/tap":            p.diaryTap,
		"POST /diary/undo":           p.diaryUndo,
		"POST /diary/read":           p.diaryRead,
		"GET /diary.csv":             p.diaryExport,
		"GET /diary/{id}":            p.diaryEdit,
		"POST /diary/{id}":           p.diarySave,
		"GET /diary/{id}/photo":      p.diaryPhotoShow,
		"POST /diary/{id}/photo":     p.diaryPhotoKeep,
		"POST /diary/{id}/photo-off": p.diaryPhotoDrop,
		"POST /diary/{id}/remove":    p.diaryRemove,
		"GET /home":                  p.homeNetworkShow,
		"POST /home/open":            p.homeOpen,
		"POST /home/close":           p.homeClose,
		"POST /home/code":            p.homeCode,
		"POST /home/{id}/forget":     p.homeForget,
		"GET /year":                  p.yearShow,
		"GET /year/{year}":           p.yearShow,
		"GET /year/next":             p.yearNext,
		"POST /year/next":            p.yearBegin,
		"POST /year/undo":            p.yearReopen,
		"GET /weather/fetch":         p.fetchShow,
		"POST /weather/fetch":        p.fetchLook,
		"POST /weather/fetch/record": p.fetchRecord,
		"POST /weather/forecast":     p.forecastFetch,
		"POST /weather/hours":        p.hoursKeep,
		"POST /weather/hours/drop":   p.hoursDrop,
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
