package web

import (
	"bytes"
	"embed"
	"errors"
	"html/template"
	"net/http"
	"slices"
	"strconv"

	"haulm/internal/app"
	"haulm/internal/garden"
	"haulm/internal/unit"
)

//go:embed templates/*.html
var templateFiles embed.FS

// templates are all pages, read when the program starts: a fault in one is
// the programmer's.
var templates = template.Must(template.New("").Funcs(template.FuncMap{
	"static": staticAddress,
}).ParseFS(templateFiles, "templates/*.html"))

// sheet is what every page shares.
type sheet struct {
	Title     string
	Nav       string // which of the pages it is, "" = none of them
	Garden    string // "" = there is none yet
	Today     string
	Planned   bool // there is a plan
	Estimated bool
	Shown     bool // the garden is only shown, changes are lost
	Refresh   int  // without script, ask again after so many seconds
	Scripts   []string
	Body      any
}

// Pages lists the pages of the site, in order. The running season comes first
// once there is a plan to run.
func (s sheet) Pages() []navPage {
	pages := []navPage{
		{"plan", "/plan", "Plan"}, {"table", "/table", "Table"}, {"ground", "/ground", "Ground"},
		{"weather", "/weather", "Weather"}, {"crops", "/crops", "Crops"}, {"diary", "/diary", "Diary"}, {"garden", "/garden", "Garden"},
	}
	if s.Planned {
		pages = slices.Insert(pages, 0, navPage{"today", "/today", "Today"})
	}
	return pages
}

type navPage struct{ Key, Href, Name string }

// show fills a template into the sheet and sends it.
func (p *Pages) show(w http.ResponseWriter, status int, name string, s sheet) error {
	s.Today = p.desk.Today().Format("Monday 2 January 2006")
	s.Shown = !p.desk.Kept()
	if g, err := p.desk.Garden(); err == nil {
		s.Garden = g.Name
		_, err := p.desk.Planned()
		s.Planned = err == nil
		if weather, err := p.desk.Weather(); err == nil {
			s.Estimated = weather.Measured.Estimated
		}
	}
	return p.fill(w, status, name, s)
}

// fill fills a template with a sheet as it is and sends it.
func (p *Pages) fill(w http.ResponseWriter, status int, name string, s sheet) error {
	var page bytes.Buffer
	if err := templates.ExecuteTemplate(&page, name, s); err != nil {
		return err
	}
	h := w.Header()
	h.Set("Content-Type", "text/html; charset=utf-8")
	h.Set("Content-Length", strconv.Itoa(page.Len()))
	h.Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	_, _ = page.WriteTo(w)
	return nil
}

// units are those in which the garden's household reads.
func units(g *garden.Garden) unit.System { return unit.SystemOf(g.Household.Imperial) }

// page turns an action into a handler.
func (p *Pages) page(act action) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		err := p.desk.Refresh(r.Context())
		if err == nil {
			err = act(w, r)
		}
		if errors.Is(err, app.ErrNoGarden) && r.Method == http.MethodGet {
			http.Redirect(w, r, "/", http.StatusSeeOther)
			return
		}
		if err != nil {
			p.errorShow(w, err)
		}
	})
}

// backTo is the page from which a form says that it was sent, where that is one
// of the others that carry the form; else the usual one.
func backTo(r *http.Request, usual string, others ...string) string {
	if from := r.FormValue("from"); slices.Contains(others, from) {
		return from
	}
	return usual
}

func seeOther(w http.ResponseWriter, r *http.Request, address string) error {
	http.Redirect(w, r, address, http.StatusSeeOther)
	return nil
}
