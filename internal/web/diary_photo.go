package web

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"net/http"
	"strconv"
	"time"

	"haulm/internal/app"
)

// photoBody is the largest form taken with a photo: the photo and a little
// round it.
const photoBody = app.MostPhotoBytes + 64<<10

// diaryPhotoKeep keeps a photo with a line of the diary, without what else was
// in its file.
func (p *Pages) diaryPhotoKeep(w http.ResponseWriter, r *http.Request) error {
	line, err := p.lineAsked(r)
	if err != nil {
		return err
	}
	again := diaryHref(line.ID) + "#photo"
	raw, err := photoSent(w, r)
	if err != nil {
		return &trouble{http.StatusBadRequest, err.Error(), "Nothing was changed. Choose another photo.", again}
	}
	mime, picture, err := app.CleanPhoto(raw)
	if err != nil {
		return &trouble{http.StatusUnprocessableEntity, err.Error(), "Nothing was changed. Choose another photo.", again}
	}
	if err := p.desk.SetPhoto(line.ID, mime, picture); err != nil {
		return err
	}
	return seeOther(w, r, "/diary?wrote="+strconv.FormatInt(line.ID, 10))
}

// photoSent is the photo of a form.
func photoSent(w http.ResponseWriter, r *http.Request) ([]byte, error) {
	const inMemory = 4 << 20
	r.Body = http.MaxBytesReader(w, r.Body, photoBody)
	tooLarge := fmt.Errorf("the photo is larger than %d MB: send a smaller one", app.MostPhotoBytes>>20)
	err := r.ParseMultipartForm(inMemory)
	var big *http.MaxBytesError
	if errors.As(err, &big) {
		return nil, tooLarge
	}
	if err != nil {
		return nil, errors.New("the form did not arrive whole")
	}
	defer func() { _ = r.MultipartForm.RemoveAll() }()
	file, _, err := r.FormFile("photo")
	if err != nil {
		return nil, errors.New("no photo was chosen")
	}
	defer file.Close()
	raw, err := io.ReadAll(io.LimitReader(file, app.MostPhotoBytes+1))
	switch {
	case err != nil:
		return nil, errors.New("the form did not arrive whole")
	case len(raw) == 0:
		return nil, errors.New("no photo was chosen")
	case len(raw) > app.MostPhotoBytes:
		return nil, tooLarge
	}
	return raw, nil
}

// diaryPhotoShow is the photo of a line; small for the list.
func (p *Pages) diaryPhotoShow(w http.ResponseWriter, r *http.Request) error {
	line, err := p.lineAsked(r)
	if err != nil {
		return err
	}
	mime, picture, err := p.desk.Photo(line.ID)
	if err != nil {
		return missing(err.Error(), "Look at the diary.", "/diary")
	}
	if r.FormValue("small") != "" {
		if picture, err = app.SmallPhoto(mime, picture); err != nil {
			return err
		}
	}
	h := w.Header()
	h.Set("Content-Type", mime)
	h.Set("Cache-Control", "private, max-age=31536000, immutable") // its address changes with the line
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(picture))
	return nil
}

// diaryPhotoDrop takes the photo of a line away; undoing brings it back.
func (p *Pages) diaryPhotoDrop(w http.ResponseWriter, r *http.Request) error {
	line, err := p.lineAsked(r)
	if err != nil {
		return err
	}
	if err := p.desk.SetPhoto(line.ID, "", nil); err != nil {
		return err
	}
	return seeOther(w, r, "/diary?wrote="+strconv.FormatInt(line.ID, 10))
}

// photoHref is where the photo of a line is seen, in the state that it is in.
func photoHref(id int64, change int, small bool) string {
	href := fmt.Sprintf("%s/photo?v=%d", diaryHref(id), change)
	if small {
		href += "&small=yes"
	}
	return href
}
