package cli

import (
	"haulm/internal/app"
	"haulm/internal/calendar"
	"haulm/internal/garden"
)

type demoCmd struct {
	Seconds float64 `help:"How long to search for the plan." default:"3"`
	Port    int     `help:"Port of the page on this machine; 0 takes any that is free." default:"0" such:"a port such as 8470"`
	NoServe bool    `help:"Print the summary only."`
	JSON    bool    `help:"Print the plan as JSON and stop."`
}

// Help gives an example.
func (demoCmd) Help() string {
	return "Example: haulm demo\n\nNothing is written: the garden is invented and kept nowhere. Start your own with haulm serve."
}

// Run plans the demonstration garden and shows it.
func (c demoCmd) Run(s *session) error {
	desk := app.ShowDesk(garden.Demo(), s.catalogue, s.Now)
	planned, err := desk.MakePlan(s.ctx, calendar.None, c.Seconds, demoSeed, s.climb())
	if err != nil {
		return err
	}
	w, err := desk.Weather()
	if err != nil {
		return err
	}
	expected, err := desk.Expected(planned)
	if err != nil {
		return err
	}
	if c.JSON {
		return s.printJSON(planned.Answer(expected, w.Measured.Estimated))
	}
	s.clearLine()
	app.WriteSummary(s.Out, planned, expected, w.Measured.Estimated)
	if c.NoServe {
		return nil
	}
	return s.serve(desk, serveCmd{Port: c.Port})
}

const demoSeed = 1
