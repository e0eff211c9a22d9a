package cli

import (
	"haulm/internal/app"
)

type importCmd struct {
	File string `arg:"" help:"The garden as TOML; a weather record that it names lies beside it." type:"path"`
}

// Help gives an example.
func (importCmd) Help() string {
	return "Example: haulm import lowmoor.toml\n\nA garden already in the file is kept as an earlier state that can be brought back."
}

// Run takes in a garden.
func (c importCmd) Run(s *session) error {
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
