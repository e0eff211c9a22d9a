package app

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"strings"

	"haulm/internal/diary"
)

// cleanedPhoto is where a photo made fit to keep lies in the waiting file.
type cleanedPhoto struct {
	mime     string
	at, size int64
}

// cleanPhotos makes the photos of the new lines fit to keep and lays them by in
// a file of their own: pictures take long to work on, and nobody is to wait for
// the diary meanwhile. Whatever comes of it, drop takes the file away.
func (in *readingIn) cleanPhotos() (drop func(), err error) {
	if in.photos == 0 {
		return func() {}, nil
	}
	if in.waiting, err = os.CreateTemp("", "haulm-photos-*"); err != nil {
		return func() {}, fmt.Errorf("the photos cannot be made ready: %w", err)
	}
	drop = func() { _ = errors.Join(in.waiting.Close(), os.Remove(in.waiting.Name())) }
	end := int64(0)
	for i, r := range in.fresh {
		if r.PhotoFile == "" {
			continue
		}
		mime, picture, err := in.cleanPhoto(r.PhotoFile)
		if err != nil {
			return drop, diary.Fault{Line: r.Line, What: fmt.Sprintf("photo %s: %v", r.PhotoFile, err)}
		}
		if _, err := in.waiting.Write(picture); err != nil {
			return drop, fmt.Errorf("the photos cannot be made ready: %w", err)
		}
		in.cleaned[i] = cleanedPhoto{mime, end, int64(len(picture))}
		end += int64(len(picture))
	}
	return drop, nil
}

func (in *readingIn) cleanPhoto(name string) (mime string, picture []byte, err error) {
	file, err := in.openPhoto(name)
	if err != nil {
		return "", nil, err
	}
	defer file.Close()
	raw, err := io.ReadAll(io.LimitReader(file, MostPhotoBytes+1))
	if err != nil {
		return "", nil, err
	}
	return CleanPhoto(raw)
}

// takeWaiting is the photo of the i-th new line as it was made fit; no bytes
// for none.
func (in *readingIn) takeWaiting(i int) (mime string, picture []byte, err error) {
	photo, there := in.cleaned[i]
	if !there {
		return "", nil, nil
	}
	picture = make([]byte, photo.size)
	_, err = in.waiting.ReadAt(picture, photo.at)
	return photo.mime, picture, err
}

// photoThere says why a photo is not beside the table, without reading it.
func (in *readingIn) photoThere(name string) error {
	file, err := in.openPhoto(name)
	if err != nil {
		return err
	}
	return file.Close()
}

func (in *readingIn) openPhoto(name string) (fs.File, error) {
	at := path.Clean(strings.ReplaceAll(name, `\`, "/"))
	if !fs.ValidPath(at) {
		return nil, fmt.Errorf("the photo %q lies outside the diary’s folder: put it beside the diary, or empty the cell", name)
	}
	notThere := fmt.Errorf("the photo %q is not beside the diary: put it there, or empty the cell", name)
	if in.beside == nil {
		return nil, notThere
	}
	file, err := in.beside.Open(at)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, notThere
	}
	if err != nil {
		return nil, err
	}
	if info, err := file.Stat(); err != nil || info.IsDir() {
		return nil, errors.Join(notThere, err, file.Close())
	}
	return file, nil
}
