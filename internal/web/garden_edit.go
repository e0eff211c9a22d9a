package web

import (
	"net/http"
	"strings"

	"haulm/internal/garden"
)

// gardenPage is the garden to change, take out, bring in or undo.
type gardenPage struct {
	*gardenForm
	Saved   bool
	CanUndo bool
	Import  importForm
}

// importForm is a garden brought in as text, with what is wrong with it.
type importForm struct{ Text, Fault string }

// gardenEdit is the garden as a form.
func (p *Pages) gardenEdit(w http.ResponseWriter, r *http.Request) error {
	g, err := p.desk.Garden()
	if err != nil {
		return err
	}
	page := gardenPage{gardenForm: formOf(g, p.desk.Catalogue, p.desk.Kept()), Saved: r.FormValue("saved") != ""}
	return p.showGarden(w, http.StatusOK, page)
}

func (p *Pages) showGarden(w http.ResponseWriter, status int, page gardenPage) error {
	page.CanUndo = p.desk.CanUndo()
	page.showMeasures()
	return p.show(w, status, "garden.html", sheet{Title: "Garden", Nav: "garden", Scripts: []string{"form.js", "places.js"}, Body: page})
}

// gardenSave keeps what the form says.
func (p *Pages) gardenSave(w http.ResponseWriter, r *http.Request) error {
	before, err := p.desk.Garden()
	if err != nil {
		return err
	}
	if err := readForm(r); err != nil {
		return err
	}
	f := newGardenForm(p.desk.Catalogue, p.desk.Kept())
	f.First, f.WeatherNow = false, weatherWords(before.WeatherRef)
	if !f.read(r, p.uploads, &p.atlas, p.readOptions()) {
		return p.showGarden(w, http.StatusOK, gardenPage{gardenForm: f})
	}
	g, ok := f.build(before)
	if !ok {
		return p.showGarden(w, http.StatusUnprocessableEntity, gardenPage{gardenForm: f})
	}
	if err := p.keepGarden(g, f); err != nil {
		return err
	}
	return seeOther(w, r, "/garden?saved=yes")
}

// gardenExport is the garden as TOML.
func (p *Pages) gardenExport(w http.ResponseWriter, _ *http.Request) error {
	g, err := p.desk.Garden()
	if err != nil {
		return err
	}
	var text strings.Builder
	if err := garden.Write(&text, g); err != nil {
		return err
	}
	w.Header().Set("Content-Type", "application/toml; charset=utf-8")
	w.Header().Set("Content-Disposition", `attachment; filename="garden.toml"`)
	w.Header().Set("Cache-Control", "no-store")
	_, _ = w.Write([]byte(text.String()))
	return nil
}

// gardenUndo takes the last change back.
func (p *Pages) gardenUndo(w http.ResponseWriter, r *http.Request) error {
	if err := p.desk.UndoGarden(); err != nil {
		return &trouble{http.StatusConflict, err.Error(), "The garden is as it was.", "/garden"}
	}
	return seeOther(w, r, "/garden?saved=yes")
}
