package web

import (
	"bytes"
	"net/http"
	"strconv"
)

// calendarExport is the jobs ahead as a calendar that other programs read or
// subscribe to.
func (p *Pages) calendarExport(w http.ResponseWriter, r *http.Request) error {
	var text bytes.Buffer
	if err := p.desk.WriteCalendar(&text, r.FormValue("as") == "tasks"); err != nil {
		return err
	}
	h := w.Header()
	h.Set("Content-Type", "text/calendar; charset=utf-8")
	h.Set("Content-Disposition", `inline; filename="haulm.ics"`)
	h.Set("Content-Length", strconv.Itoa(text.Len()))
	h.Set("Cache-Control", "no-store")
	_, _ = text.WriteTo(w)
	return nil
}
