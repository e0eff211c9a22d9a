package web

import (
	"errors"
	"io"
	"net/http"
	"strings"

	"haulm/internal/app"
	"haulm/internal/garden"
)

// gardenImport takes a garden from TOML text, pasted or as a file. Text that
// is wrong is shown again with the line that is.
func (p *Pages) gardenImport(w http.ResponseWriter, r *http.Request) error {
	if err := readForm(r); err != nil {
		return err
	}
	text, err := importText(r)
	if err != nil {
		return err
	}
	g, err := garden.Parse(strings.NewReader(text))
	if err == nil {
		err = app.CheckGarden(g, p.desk.Catalogue)
	}
	if err == nil {
		err = p.desk.SaveGarden(g)
	}
	if err == nil {
		return seeOther(w, r, "/garden?saved=yes")
	}
	fault := importForm{text, capital(sentence(err.Error()))}
	before, err := p.desk.Garden()
	if errors.Is(err, app.ErrNoGarden) {
		return invalid(fault.Fault, "Correct the text and bring it in again.", "/")
	}
	if err != nil {
		return err
	}
	return p.showGarden(w, http.StatusUnprocessableEntity, gardenPage{
		gardenForm: formOf(before, p.desk.Catalogue, p.desk.Kept()), Import: fault,
	})
}

// importText is the file sent, or else what was pasted.
func importText(r *http.Request) (string, error) {
	file, _, err := r.FormFile("file")
	if errors.Is(err, http.ErrMissingFile) || errors.Is(err, http.ErrNotMultipart) {
		return r.FormValue("text"), nil
	}
	if err != nil {
		return "", invalid("the file did not arrive whole", "Choose it again.", "/garden#import")
	}
	defer file.Close()
	text, err := io.ReadAll(file)
	return string(text), err
}
