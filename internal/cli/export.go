package cli

import "haulm/internal/app"

type exportCmd struct {
	File string `arg:"" optional:"" help:"Where to write; the weather record goes beside it as CSV, the photos of the diary into a folder. Default: the garden alone, to the screen." type:"path"`
}

// Help gives an example.
func (exportCmd) Help() string { return "Example: haulm export lowmoor.toml" }

// Run writes the garden out.
func (c exportCmd) Run(s *session) error {
	desk, file, err := s.openDesk(false)
	if err != nil {
		return err
	}
	defer file.Close()
	if c.File == "" {
		return app.WriteGarden(s.Out, desk)
	}
	written, err := app.ExportGarden(desk, c.File)
	if err != nil {
		return err
	}
	for _, path := range written {
		s.printf("wrote %s\n", path)
	}
	return nil
}
