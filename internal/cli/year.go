package cli

import (
	"errors"
	"fmt"

	"haulm/internal/app"
)

type yearCmd struct {
	Year      int  `arg:"" optional:"" such:"a year such as 2026" help:"The year, such as 2026. Default: the one nearest its end."`
	StartNext bool `help:"Show with what the next year would begin: rotation, what stands, what lies in store."`
	Yes       bool `help:"With --start-next: do it. haulm year --undo brings the year back."`
	Undo      bool `help:"Open the year again that was closed last, with its garden and plan."`
	JSON      bool `help:"Print JSON."`
}

// Help gives an example.
func (yearCmd) Help() string {
	return "Example: haulm year 2026\n\nWhat was forecast, what came, which crops earned their room, what was lost and what to change. Minutes written after a semicolon in a line of the diary (\"weeded carrots; 25 min\") are counted as work."
}

// Run tells a year's end, or begins the next year.
func (c yearCmd) Run(s *session) error {
	if err := c.check(); err != nil {
		return err
	}
	desk, file, err := s.openDesk(false)
	if err != nil {
		return err
	}
	defer file.Close()
	switch {
	case c.Undo:
		return c.undo(s, desk)
	case c.StartNext:
		return c.startNext(s, desk)
	}
	answer, err := desk.Reckon(c.Year)
	if err != nil {
		return err
	}
	if c.JSON {
		return s.printJSON(answer)
	}
	app.WriteYear(s.Out, answer)
	return nil
}

func (c yearCmd) check() error {
	const first, last = 1900, 2200
	switch {
	case c.Year != 0 && (c.Year < first || c.Year > last):
		return fmt.Errorf("%d is no year of a garden: write one such as 2026", c.Year)
	case c.Yes && !c.StartNext:
		return errors.New("--yes goes with --start-next")
	case c.Undo && c.StartNext:
		return errors.New("--undo and --start-next are opposites: give one of them")
	}
	return nil
}

func (c yearCmd) startNext(s *session, desk *app.Desk) error {
	next, err := desk.NextYear(c.Year)
	if err != nil {
		return err
	}
	if c.Yes {
		if err := desk.StartNextYear(next.Noted()); err != nil {
			return err
		}
	}
	if c.JSON {
		return s.printJSON(next)
	}
	app.WriteNextYear(s.Out, next)
	if c.Yes {
		s.printf("\nDone: %d begins. Plan it with haulm plan; haulm year --undo takes this back.\n", next.Year)
	} else {
		s.printf("\nNothing is changed yet. haulm year --start-next --yes does it; the Year page lets you leave lines out or put them in.\n")
	}
	return nil
}

func (c yearCmd) undo(s *session, desk *app.Desk) error {
	year, err := desk.UndoOpensYear()
	if err != nil {
		return err
	}
	if year == 0 {
		return errors.New("the last change to the garden closed no year: there is none to open again")
	}
	if err := desk.UndoGarden(); err != nil {
		return err
	}
	s.printf("%d is open again, with its garden and its plan.\n", year)
	return nil
}
