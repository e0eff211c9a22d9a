package cli

import (
	"fmt"

	"haulm/internal/app"
	"haulm/internal/calendar"
)

type planCmd struct {
	Seconds float64 `help:"How long to search." default:"5"`
	Seed    int64   `help:"Where the search begins." default:"1"`
	From    string  `help:"First day of the plan. Default: the next season, or today once it has begun." placeholder:"YYYY-MM-DD"`
	JSON    bool    `help:"Print JSON."`
}

// Help gives an example.
func (planCmd) Help() string { return "Example: haulm plan --seconds 10" }

// Run plans the garden's year and keeps the plan.
func (c planCmd) Run(s *session) error {
	if c.Seconds <= 0 {
		return fmt.Errorf("--seconds %g: give the search some time, 1 or more", c.Seconds)
	}
	from := calendar.None
	if c.From != "" {
		day, err := calendar.Parse(c.From)
		if err != nil {
			return fmt.Errorf("--from: %w", err)
		}
		from = day
	}
	desk, file, err := s.openDesk(false)
	if err != nil {
		return err
	}
	defer file.Close()
	planned, err := desk.MakePlan(s.ctx, from, c.Seconds, c.Seed, s.climb())
	if err != nil {
		return err
	}
	w, err := desk.Weather()
	if err != nil {
		return err
	}
	if c.JSON {
		return s.printJSON(planned.Answer(w.Measured.Estimated))
	}
	s.clearLine()
	app.WriteSummary(s.Out, planned, w.Measured.Estimated)
	return nil
}

// clearLine wipes the progress line.
func (s *session) clearLine() {
	if s.Terminal {
		fmt.Fprint(s.Err, "\r\x1b[K")
	}
}
