package cli

import (
	"fmt"

	"haulm/internal/app"
	"haulm/internal/store"
)

// path is the garden's file: as asked for, or the usual place.
func (s *session) path() (string, error) {
	if s.gardenAt != "" {
		return s.gardenAt, nil
	}
	return store.DefaultPath()
}

// openFile opens the garden's file; where there is none and create is set, it
// is made.
func (s *session) openFile(create bool) (*store.Store, error) {
	path, err := s.path()
	if err != nil {
		return nil, err
	}
	file, err := store.Open(path)
	if store.KindOf(err) != store.Missing {
		return file, err
	}
	if create {
		return store.Create(path)
	}
	return nil, &store.Error{Kind: store.Missing, Path: path, Text: s.noGarden(path)}
}

// noGarden says how a garden's file is made where there is none.
func (s *session) noGarden(path string) string {
	haulm, check := "haulm", ""
	if s.gardenAt != "" {
		haulm, check = fmt.Sprintf("haulm --garden %q", path), "check its name, or "
	}
	return fmt.Sprintf("there is no such file; %smake a garden there: %s serve asks for it in the browser, %s import FILE.toml takes it from a text file (haulm demo shows an invented one)",
		check, haulm, haulm)
}

// openDesk opens the garden's file and what is in it. The caller closes the
// file.
func (s *session) openDesk(create bool) (*app.Desk, *store.Store, error) {
	file, err := s.openFile(create)
	if err != nil {
		return nil, nil, err
	}
	desk, err := app.OpenDesk(s.ctx, file, s.catalogue, s.Now)
	if err != nil {
		file.Close()
		return nil, nil, err
	}
	desk.UseForecasts("")
	return desk, file, nil
}
