package cli

import (
	"bytes"
	"fmt"
	"os"
)

type calendarCmd struct {
	File string `arg:"" optional:"" help:"Where to write it. Default: standard output." placeholder:"FILE.ics" type:"path"`
	Todo bool   `help:"Write to-dos instead of events."`
}

// Help gives an example.
func (calendarCmd) Help() string {
	return "Example: haulm calendar jobs.ics\n\nTaking the file in again updates the entries that changed and drops those that are done."
}

// Run writes the jobs ahead as an iCalendar file.
func (c calendarCmd) Run(s *session) error {
	desk, file, err := s.openDesk(false)
	if err != nil {
		return err
	}
	defer file.Close()
	var text bytes.Buffer
	if err := desk.WriteCalendar(&text, c.Todo); err != nil {
		return err
	}
	if c.File == "" {
		_, err := s.Out.Write(text.Bytes())
		return err
	}
	if err := os.WriteFile(c.File, text.Bytes(), 0o644); err != nil {
		return fmt.Errorf("writing the calendar: %w", err)
	}
	s.printf("%s written.\n", c.File)
	return nil
}
