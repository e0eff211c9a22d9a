package app

import (
	"archive/zip"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
)

// ExportEverything writes all that is kept of the garden as plain files: into
// a zip file where the path says so, else into a new folder. It returns how
// many files there are. What is there already is not written over, and an
// export that fails leaves nothing behind.
func ExportEverything(d *Desk, path string) (int, error) {
	if path == "" {
		return 0, errNothingTaken
	}
	files, err := d.everything()
	if err != nil {
		return 0, err
	}
	if strings.EqualFold(filepath.Ext(path), ".zip") {
		err = writeZipFile(d, path, files)
	} else {
		err = writeFolder(path, files)
	}
	return len(files), err
}

// WriteEverything writes the same as a zip.
func WriteEverything(w io.Writer, d *Desk) error {
	files, err := d.everything()
	if err != nil {
		return err
	}
	return writeZip(d, w, files)
}

func writeZip(d *Desk, w io.Writer, files []taken) error {
	z := zip.NewWriter(w)
	for _, f := range files {
		out, err := z.CreateHeader(&zip.FileHeader{Name: f.name, Method: zip.Deflate, Modified: d.now()})
		if err != nil {
			return fmt.Errorf("export: %w", err)
		}
		if err := f.write(out); err != nil {
			return fmt.Errorf("export of %s: %w", f.name, err)
		}
	}
	return z.Close()
}

func writeZipFile(d *Desk, path string, files []taken) error {
	file, err := createNew(path)
	if err != nil {
		return err
	}
	err = errors.Join(writeZip(d, file, files), file.Close())
	if err != nil {
		return errors.Join(err, os.Remove(path)) // it was not there before
	}
	return nil
}

func writeFolder(path string, files []taken) error {
	err := os.Mkdir(path, 0o755)
	if errors.Is(err, os.ErrExist) {
		return thereAlready(path)
	}
	if err != nil {
		return fmt.Errorf("export: %w", err)
	}
	for _, f := range files {
		if err := writeTaken(path, f); err != nil {
			return errors.Join(fmt.Errorf("export of %s: %w", f.name, err), os.RemoveAll(path)) // it was not there before
		}
	}
	return nil
}

func writeTaken(folder string, f taken) error {
	path := filepath.Join(folder, filepath.FromSlash(f.name))
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	file, err := createNew(path)
	if err != nil {
		return err
	}
	return errors.Join(f.write(file), file.Close())
}
