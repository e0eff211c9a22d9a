package cli

import (
	"haulm/internal/app"
)

type validateCmd struct {
	Shared string `help:"The folder with the published trials and their weather." default:"../shared" placeholder:"DIR" type:"path"`
}

// Help gives an example.
func (validateCmd) Help() string {
	return "Example: haulm validate --shared ../shared\n\nGrows every published trial and prints docs/validation.md. No trial is judged by a fit that has seen it."
}

// Run prints the report on the published trials.
func (c validateCmd) Run(s *session) error {
	report, err := app.Validate(c.Shared, s.catalogue)
	if err != nil {
		return err
	}
	return report.Write(s.Out)
}
