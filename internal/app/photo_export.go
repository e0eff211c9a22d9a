package app

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"haulm/internal/diary"
)

// exportPhotos writes the diary's photos into a folder beside the garden's
// text, each named by its day, its line and its crop, and returns what was
// written. A file that is already there is not written over.
func (d *Desk) exportPhotos(path string) ([]string, error) {
	lines, err := d.Diary()
	if err != nil {
		return nil, err
	}
	folder := strings.TrimSuffix(path, filepath.Ext(path)) + "-photos"
	var written []string
	for _, line := range lines {
		if !line.Photo {
			continue
		}
		mime, picture, err := d.Photo(line.ID)
		if err != nil {
			return written, err
		}
		if err := os.MkdirAll(folder, 0o755); err != nil {
			return written, fmt.Errorf("export: %w", err)
		}
		file := filepath.Join(folder, photoName(line.Entry, mime))
		if err := writeNew(file, picture); err != nil {
			return written, err
		}
		written = append(written, file)
	}
	return written, nil
}

// photoName is what the file of a line's photo is called.
func photoName(e diary.Entry, mime string) string {
	name := fmt.Sprintf("%s-line-%d", e.Day, e.ID)
	if e.Crop != "" {
		name += "-" + e.Crop
	}
	return name + "." + strings.Replace(strings.TrimPrefix(mime, "image/"), "jpeg", "jpg", 1)
}
