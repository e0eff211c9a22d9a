package web

import (
	"bytes"
	"errors"
	"net/http"
	"os"
	"time"

	"haulm/internal/app"
)

// everythingExport is all that is kept of the garden as a zip of plain files.
// It is made whole before the first of it is sent.
func (p *Pages) everythingExport(w http.ResponseWriter, r *http.Request) (err error) {
	if _, err := p.desk.Garden(); err != nil {
		return err
	}
	file, err := os.CreateTemp("", "haulm-*.zip")
	if err != nil {
		return err
	}
	defer func() { _ = errors.Join(file.Close(), os.Remove(file.Name())) }()
	if err := app.WriteEverything(file, p.desk); err != nil {
		return err
	}
	h := w.Header()
	h.Set("Content-Type", "application/zip")
	h.Set("Content-Disposition", `attachment; filename="haulm-`+p.desk.Today().String()+`.zip"`)
	h.Set("Cache-Control", "no-store")
	http.ServeContent(w, r, "", time.Time{}, file)
	return nil
}

// diaryExport is the diary alone as a table.
func (p *Pages) diaryExport(w http.ResponseWriter, r *http.Request) error {
	if _, err := p.desk.Garden(); err != nil {
		return err
	}
	var text bytes.Buffer
	if err := p.desk.WriteDiary(&text); err != nil {
		return err
	}
	h := w.Header()
	h.Set("Content-Type", "text/csv; charset=utf-8")
	h.Set("Content-Disposition", `attachment; filename="diary.csv"`)
	h.Set("Cache-Control", "no-store")
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(text.Bytes()))
	return nil
}
