package web

import (
	"encoding/json"
	"fmt"
	"html/template"
	"net/http"
	"strings"
	"time"

	"haulm/internal/figure"
	"haulm/internal/unit"
)

// watching is the page of a search that is going on.
type watching struct {
	Value     string
	Plantings string
	Elapsed   string
	Seconds   int
	Share     int // of the time, per cent
	Climb     template.HTML
	Drawing   template.HTML
}

// planWatch shows a search: a stream of events for the page's script, a page
// that asks again by itself for whoever has none.
func (p *Pages) planWatch(w http.ResponseWriter, r *http.Request) error {
	w.Header().Set("Vary", "Accept")
	if strings.Contains(r.Header.Get("Accept"), "text/event-stream") {
		return p.planStream(w, r)
	}
	s, ok := p.planner.now()
	if !ok || s.over && s.err == nil {
		return seeOther(w, r, "/plan")
	}
	if s.err != nil {
		return &trouble{http.StatusConflict, s.err.Error(), "See to that in the garden, then make the plan again.", "/garden"}
	}
	return p.show(w, http.StatusOK, "progress.html", sheet{
		Title: "Making the plan", Nav: "plan", Refresh: 2, Scripts: []string{"progress.js"}, Body: p.watching(s),
	})
}

func (p *Pages) watching(s state) watching {
	v := watching{
		Value: count(s.value), Seconds: int(s.seconds), Elapsed: unit.Number(s.elapsed, 0),
		Share: int(100 * s.elapsed / max(s.seconds, 1)), Plantings: "laying the garden out over the years",
		Climb: template.HTML(figure.Spark{Frame: figure.Frame{ID: "climb", WidthPX: 260}, Label: "Value of the plan", Values: s.values, HeightPX: 44}.SVG()),
	}
	if s.year != nil {
		v.Plantings = counted(len(s.year.Plantings), "planting", "plantings")
		v.Drawing = p.drawing(s)
	}
	return v
}

// drawing is the ground of the best plan so far, for both widths.
func (p *Pages) drawing(s state) template.HTML {
	wide, narrow := p.groundFigures(s.year)
	return template.HTML(`<div class="f-frame-wide">` + wide.SVG() + `</div><div class="f-frame-narrow">` + narrow.SVG() + `</div>`)
}

// heartbeat keeps a stream from falling asleep while nothing better is found.
const heartbeat = time.Second

func (p *Pages) planStream(w http.ResponseWriter, r *http.Request) error {
	out := http.NewResponseController(w)
	w.Header().Set("Content-Type", "text/event-stream; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(http.StatusOK)
	drawn := -1
	for {
		s, ok := p.planner.now()
		if !ok || s.over {
			return event(w, out, "done", map[string]string{"href": "/plan/progress"})
		}
		news := p.watching(s)
		if drawn == len(s.values) {
			news.Drawing = "" // as before
		}
		drawn = len(s.values)
		if err := event(w, out, "plan", news); err != nil {
			return nil // nobody is watching any more
		}
		select {
		case <-s.news:
			time.Sleep(heartbeat / 4) // improvements come in swarms at first
		case <-time.After(heartbeat):
		case <-r.Context().Done():
			return nil
		}
	}
}

func event(w http.ResponseWriter, out *http.ResponseController, name string, what any) error {
	text, err := json.Marshal(what)
	if err != nil {
		return err
	}
	if _, err := fmt.Fprintf(w, "event: %s\ndata: %s\n\n", name, text); err != nil {
		return err
	}
	return out.Flush()
}
