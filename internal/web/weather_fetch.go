package web

import (
	"encoding/json"
	"fmt"
	"math"
	"net/http"
	"strings"
	"time"

	"haulm/internal/app"
	"haulm/internal/garden"
	"haulm/internal/unit"
)

// fetchPage is the search for a nearer station, and what came of it.
type fetchPage struct {
	Running  bool
	Doing    string
	Share    int // per cent of what is to come; -1 where nobody knows
	Fault    string
	Kept     bool // a record can be kept
	Stations []stationLine
	Got      *recordReport
	GotName  string
	GotFrom  string
	Stale    string
}

// stationLine is one station to choose.
type stationLine struct{ ID, Name, Says string }

// stationsListed is how many stations are offered.
const stationsListed = 6

// fetchShow shows how far the search is; as data for the page's script.
func (p *Pages) fetchShow(w http.ResponseWriter, r *http.Request) error {
	g, err := p.desk.Garden()
	if err != nil {
		return err
	}
	is := p.fetcher.now()
	w.Header().Set("Vary", "Accept")
	if strings.Contains(r.Header.Get("Accept"), "application/json") {
		w.Header().Set("Content-Type", "application/json; charset=utf-8")
		w.Header().Set("Cache-Control", "no-store")
		return json.NewEncoder(w).Encode(map[string]any{"running": is.Running, "doing": doingWords(is), "share": shareCome(is)})
	}
	page := p.fetchPage(is, g)
	s := sheet{Title: "A nearer station", Nav: "weather", Body: page}
	if page.Running {
		s.Refresh, s.Scripts = 2, []string{"fetching.js"}
	}
	return p.show(w, http.StatusOK, "weather_fetch.html", s)
}

func (p *Pages) fetchPage(is fetching, g *garden.Garden) fetchPage {
	page := fetchPage{Running: is.Running, Doing: doingWords(is), Share: shareCome(is), Kept: p.desk.Kept()}
	if is.Err != nil {
		page.Fault = capital(sentence(is.Err.Error()))
	}
	for _, s := range is.Stations {
		page.Stations = append(page.Stations, stationLine{s.ID, s.Name, stationWords(s, g)})
	}
	if is.Got == nil || is.Running {
		return page
	}
	page.GotName, page.GotFrom = is.Got.Station.Name, stationWords(is.Got.Station, g)
	if is.Got.Stale != nil {
		page.Stale = capital(sentence(is.Got.Stale.Error()))
	}
	prepared, err := app.Prepare(is.Got.Record, p.desk.Catalogue)
	if err != nil {
		page.Fault = capital(sentence(err.Error()))
		return page
	}
	page.Got = newRecordReport(uploadOf(is.Got), prepared)
	return page
}

// shareCome is how much has come, per cent; -1 where nobody knows.
func shareCome(is fetching) int {
	if is.Progress.Total <= 0 {
		return -1
	}
	return int(100 * is.Progress.Done / is.Progress.Total)
}

// doingWords says what is under way, with how much has come.
func doingWords(is fetching) string {
	switch p := is.Progress; {
	case p.Waiting > 0:
		return fmt.Sprintf("No answer yet; the next try is in %s", p.Waiting.Round(time.Second))
	case p.Total > 0:
		return fmt.Sprintf("Fetching %s: %s of %s", p.What, bytesWords(p.Done), bytesWords(p.Total))
	case p.What != "":
		return fmt.Sprintf("Fetching %s: %s", p.What, bytesWords(p.Done))
	}
	return "Asking for " + is.Doing
}

func bytesWords(n int64) string {
	if n >= 1<<20 {
		return unit.Number(float64(n)/(1<<20), 1) + " MB"
	}
	return count(math.Ceil(float64(n)/(1<<10))) + " kB"
}

// stationWords say where a station stands against the garden, and how long it
// has measured.
func stationWords(s app.StationAnswer, g *garden.Garden) string {
	u := units(g)
	words := unit.Number(s.DistanceKM, 0) + " km off"
	if s.ElevM != nil {
		switch higher := *s.ElevM - g.Site.ElevM; {
		case higher >= 1:
			words += ", " + climb(higher, u) + " higher"
		case higher <= -1:
			words += ", " + climb(-higher, u) + " lower"
		default:
			words += ", at your height"
		}
	} else {
		words += ", its height is not said"
	}
	words += fmt.Sprintf(", %d to %d", s.First, s.Last)
	if !s.Rain {
		words += ", no rain"
	}
	return words
}

// climb is a difference in height, to the metre or foot.
func climb(metres float64, u unit.System) string {
	if u == unit.Imperial {
		return unit.Number(float64(unit.Metre(metres).Feet()), 0) + " ft"
	}
	return unit.Number(metres, 0) + " m"
}

// stationQuestion asks about the garden's own place.
func (p *Pages) stationQuestion() (app.StationQuestion, error) {
	g, err := p.desk.Garden()
	if err != nil {
		return app.StationQuestion{}, err
	}
	return app.StationQuestion{Site: g.Site, HasHeight: true, Count: stationsListed, Year: p.desk.Today().Year()}, nil
}

// fetchLook begins to look for stations.
func (p *Pages) fetchLook(w http.ResponseWriter, r *http.Request) error {
	q, err := p.stationQuestion()
	if err != nil {
		return err
	}
	p.fetcher.look(q)
	return seeOther(w, r, "/weather/fetch")
}

// fetchRecord begins to fetch one station's record.
func (p *Pages) fetchRecord(w http.ResponseWriter, r *http.Request) error {
	q, err := p.stationQuestion()
	if err != nil {
		return err
	}
	if q.Station = r.FormValue("station"); q.Station == "" {
		return invalid("no station was chosen", "Choose one of the list.", "/weather/fetch")
	}
	p.fetcher.get(q)
	return seeOther(w, r, "/weather/fetch")
}

// fetchStop ends what is under way.
func (p *Pages) fetchStop(w http.ResponseWriter, r *http.Request) error {
	p.fetcher.halt()
	return seeOther(w, r, "/weather")
}

// fetchKeep lets the garden grow through the record that was fetched.
func (p *Pages) fetchKeep(w http.ResponseWriter, r *http.Request) error {
	got := p.fetcher.now().Got
	if got == nil {
		return missing("no record is fetched yet", "Look for a station.", "/weather/fetch")
	}
	if err := p.desk.KeepFetched(got, r.FormValue("as_measured") != ""); err != nil {
		return err
	}
	prepared, err := p.desk.Weather()
	if err != nil {
		return err
	}
	p.keepReport(newRecordReport(uploadOf(got), prepared))
	p.fetcher.forget()
	return seeOther(w, r, "/garden/ready")
}

// uploadOf is a fetched record in the terms of one that was sent.
func uploadOf(got *app.Fetched) *upload {
	rec := got.Record
	return &upload{
		File: got.Station.ID + " " + got.Station.Name, Days: count(float64(rec.Days())),
		Span: dayLong(rec.Start) + " to " + dayLong(rec.End().Add(-1)), record: rec, report: got.Report,
	}
}
