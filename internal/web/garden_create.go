package web

import (
	"errors"
	"mime/multipart"
	"net/http"
	"path"
	"strings"

	"haulm/internal/app"
	"haulm/internal/garden"
	"haulm/internal/readings"
)

// formMemory is how much of a sent form is held in memory; the rest of a
// record waits in a file.
const formMemory = 8 << 20

// readForm takes in what was sent, with or without a file.
func readForm(r *http.Request) error {
	err := r.ParseMultipartForm(formMemory)
	if errors.Is(err, http.ErrNotMultipart) {
		err = nil // ParseMultipartForm has read the plain form
	}
	var big *http.MaxBytesError
	if err != nil && !errors.As(err, &big) {
		return invalid("the form did not arrive whole: "+err.Error(), "Go back and send it again.", "/")
	}
	return err
}

// sentFile is a file that came with a form that was read.
type sentFile struct {
	multipart.File
	name string // without folders
	size int64
}

// takeFile opens the file of a field; choose says what to choose where none
// came. The server takes away what of it waits on disk once it has answered.
func takeFile(r *http.Request, field, choose string) (*sentFile, error) {
	file, head, err := r.FormFile(field)
	if err != nil {
		return nil, errors.New("no file was chosen: choose " + choose)
	}
	if head.Size == 0 {
		file.Close()
		return nil, errors.New("no file was chosen: choose " + choose)
	}
	return &sentFile{file, bareName(head.Filename), head.Size}, nil
}

// bareName is the name of a sent file without the folders of any system.
func bareName(sent string) string { return path.Base(strings.ReplaceAll(sent, `\`, "/")) }

func (p *Pages) readOptions() readings.Options { return readings.Options{Today: p.desk.Today()} }

// gardenCreate makes the first garden from the form.
func (p *Pages) gardenCreate(w http.ResponseWriter, r *http.Request) error {
	if _, err := p.desk.Garden(); err == nil {
		return &trouble{http.StatusConflict, "there is a garden already", "Change it on the Garden page.", "/garden"}
	}
	if err := readForm(r); err != nil {
		return err
	}
	f := newGardenForm(p.desk.Catalogue, p.desk.Kept())
	if !f.read(r, p.uploads, &p.atlas, p.readOptions()) {
		return p.showFirst(w, http.StatusOK, f)
	}
	g, ok := f.build(nil)
	if !ok {
		return p.showFirst(w, http.StatusUnprocessableEntity, f)
	}
	if err := p.keepGarden(g, f); err != nil {
		return err
	}
	return seeOther(w, r, "/garden/ready")
}

// keepGarden keeps the record sent with the form, then the garden.
func (p *Pages) keepGarden(g *garden.Garden, f *gardenForm) error {
	up := f.Upload
	if f.Weather != sendRecord {
		up = nil
	}
	if up != nil {
		if err := p.desk.SaveRecord(g.WeatherRef, up.record); err != nil {
			return err
		}
	}
	if err := p.desk.SaveGarden(g); err != nil {
		return err
	}
	if up == nil {
		if f.Weather != keepRecord {
			p.keepReport(nil)
		}
		return nil
	}
	prepared, err := p.desk.Weather()
	if err != nil {
		return err
	}
	p.keepReport(newRecordReport(up, prepared))
	return nil
}

// gardenDemo takes the demonstration garden for one's own.
func (p *Pages) gardenDemo(w http.ResponseWriter, r *http.Request) error {
	if _, err := p.desk.Garden(); err == nil {
		return &trouble{http.StatusConflict, "there is a garden already", "The demonstration would take its place; haulm demo shows it and leaves your garden as it is.", "/garden"}
	} else if !errors.Is(err, app.ErrNoGarden) {
		return err
	}
	if err := p.desk.SaveGarden(garden.Demo()); err != nil {
		return err
	}
	return seeOther(w, r, "/garden/ready")
}

// readyPage is what was read, and the way to the plan.
type readyPage struct {
	Name      string
	Places    string
	Estimated bool
	Source    string
	Doubt     string // what speaks against an estimate
	Report    *recordReport
	Search    searchForm
}

// gardenReady says what was read of a new garden's weather.
func (p *Pages) gardenReady(w http.ResponseWriter, _ *http.Request) error {
	g, err := p.desk.Garden()
	if err != nil {
		return err
	}
	prepared, err := p.desk.Weather()
	if err != nil {
		return err
	}
	page := readyPage{
		Name: g.Name, Places: counted(len(g.Places), "place", "places"), Estimated: prepared.Measured.Estimated,
		Source: capital(sentence(prepared.Measured.Source)), Report: p.lastReport(), Search: newSearchForm(false),
	}
	if g.WeatherRef == app.EstimateRef {
		if _, doubt, err := app.EstimateBasis(g.Site); err == nil && doubt != "" {
			page.Doubt = capital(sentence(doubt))
		}
	}
	return p.show(w, http.StatusOK, "garden_ready.html", sheet{Title: "The garden is kept", Nav: "garden", Body: page})
}

// recordHelp says how to get or write a record.
func (p *Pages) recordHelp(w http.ResponseWriter, _ *http.Request) error {
	return p.show(w, http.StatusOK, "record_help.html", sheet{Title: "Weather records", Nav: "garden"})
}
