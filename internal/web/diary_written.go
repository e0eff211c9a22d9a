package web

import (
	"net/http"
	"net/url"
	"slices"
	"strconv"

	"haulm/internal/app"
	"haulm/internal/diary"
	"haulm/internal/season"
	"haulm/internal/store"
)

// written says what was written just before a page was shown, and what follows
// from it.
type written struct {
	Wrote  string
	Doubts []string
	Undone bool   // it was taken back: the button would take back the line before it
	Next   []link // what can be done about ground that came free
}

// written reads from the address what was done just now.
func (p *Pages) written(r *http.Request) written {
	switch {
	case r.FormValue("undone") != "":
		return written{Wrote: "The last thing written is taken back.", Undone: true}
	case r.FormValue("removed") != "":
		return written{Wrote: "The line is taken out."}
	}
	if words := readWords(r); words != "" {
		return written{Wrote: words, Doubts: r.Form["doubt"]}
	}
	id, err := strconv.ParseInt(r.FormValue("wrote"), 10, 64)
	if err != nil {
		return written{}
	}
	line, err := p.diaryLine(id)
	if err != nil {
		return written{} // taken out meanwhile
	}
	return written{Wrote: "Written: " + entryWords(line.Entry, p.desk.Catalogue), Doubts: r.Form["doubt"], Next: p.freed(line)}
}

// freed is what can be done with the ground that a line of the diary gave back.
func (p *Pages) freed(line store.DiaryLine) []link {
	if line.Kind != diary.Lost && line.Kind != diary.Cleared {
		return nil
	}
	morning, err := p.morning()
	if err != nil {
		return nil // the line is kept; that there is no morning is told elsewhere
	}
	i := slices.IndexFunc(morning.Plantings, func(s season.Standing) bool { return s.Key == line.Planting })
	if i < 0 {
		return nil
	}
	s := &morning.Plantings[i]
	if s.Stage != season.LostAll && s.Stage != season.Cleared {
		return nil // part of it stands
	}
	rest := link{"/plan/rest", "Plan the rest again"}
	if _, err := p.desk.Fill(app.FillQuestion{Place: s.Place.Name, FromCM: s.FromCM, ToCM: s.ToCM, Day: noDay}); err != nil {
		return []link{rest} // something else stands on part of it
	}
	return []link{{stretchHref(s.Place.Name, s.FromCM, s.ToCM), "What can go into its ground"}, rest}
}

// stretchHref is the page that tells what can still go into a stretch.
func stretchHref(place string, fromCM, toCM int) string {
	return "/ground/fill?" + url.Values{"place": {place}, "from": {strconv.Itoa(fromCM)}, "to": {strconv.Itoa(toCM)}}.Encode()
}
