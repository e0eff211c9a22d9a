package cli

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"haulm/internal/app"
)

type importCmd struct {
	File string `arg:"" help:"The garden as TOML, with the weather record that it names beside it; or a diary as CSV, its photos beside it." type:"path"`
}

// Help gives an example.
func (importCmd) Help() string {
	return "Example: haulm import lowmoor.toml, or haulm import diary.csv\n\n" +
		"A garden already in the file is kept as an earlier state that can be brought back.\n\n" +
		"A diary adds what the garden's diary does not have yet: nothing is written twice, nothing is altered, and haulm note --undo takes all of it out again. " +
		"It is the diary.csv of haulm export --all, or a table of your own with at least the columns day (2027-05-12) and what (sown, picked, note …), and any of amount, unit, crop, place, cause, words, photo."
}

// Run takes in a garden, or a diary.
func (c importCmd) Run(s *session) error {
	is, err := os.Stat(c.File)
	switch ext := strings.ToLower(filepath.Ext(c.File)); {
	case ext == ".zip":
		return fmt.Errorf("%s: unpack it, then import garden.toml and diary.csv out of its folder, one after the other", c.File)
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%s: there is no such file; check its name", c.File)
	case err == nil && is.IsDir():
		return fmt.Errorf("%s is a folder: import garden.toml and diary.csv out of it, one after the other", c.File)
	case ext == ".csv":
		return c.diary(s)
	}
	desk, file, err := s.openDesk(true)
	if err != nil {
		return err
	}
	defer file.Close()
	report, err := app.ImportGarden(desk, c.File)
	if err != nil {
		return err
	}
	g, err := desk.Garden()
	if err != nil {
		return err
	}
	s.printf("%s: %d places, %d dishes, kept in %s\n", g.Name, len(g.Places), len(g.Wants), file.Path())
	s.warnRejected("", report)
	return nil
}

// diary adds the lines of a diary.
func (c importCmd) diary(s *session) error {
	table, err := os.Open(c.File)
	if err != nil {
		return fmt.Errorf("diary: %w", err)
	}
	defer table.Close()
	desk, file, err := s.openDesk(false)
	if err != nil {
		return err
	}
	defer file.Close()
	read, err := desk.ReadDiary(table, filepath.Base(c.File), os.DirFS(filepath.Dir(c.File)))
	if err != nil {
		return err
	}
	s.printf("%s\n", read.Says())
	if read.Added > 0 {
		s.printf("haulm note --undo takes them out again\n")
	}
	for _, doubt := range slices.Concat(read.Notes, read.Doubts) {
		fmt.Fprintf(s.Err, "note: %s\n", doubt)
	}
	return nil
}
