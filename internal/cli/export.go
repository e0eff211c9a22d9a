package cli

import "haulm/internal/app"

type exportCmd struct {
	File string `arg:"" optional:"" help:"Where to write; the weather record goes beside it as CSV, the photos of the diary into a folder. Default: the garden alone, to the screen." type:"path"`
	All  bool   `help:"Everything that is kept: garden, diary with photos, plans, closed years, weather. Into a zip file, or a new folder."`
}

// Help gives an example.
func (exportCmd) Help() string {
	return "Example: haulm export lowmoor.toml, or haulm export --all lowmoor.zip\n\n" +
		"With --all the diary, the plans and the closed years are tables (CSV) whose columns name their units, each plan and year also as JSON, photos as picture files; README.txt says what is in each. " +
		"haulm import reads the garden and the diary again."
}

// Run writes the garden out.
func (c exportCmd) Run(s *session) error {
	desk, file, err := s.openDesk(false)
	if err != nil {
		return err
	}
	defer file.Close()
	if c.All {
		files, err := app.ExportEverything(desk, c.File)
		if err != nil {
			return err
		}
		s.printf("wrote %s: %d files; README.txt says what is in each\n", c.File, files)
		return nil
	}
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
