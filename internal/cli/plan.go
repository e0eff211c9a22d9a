package cli

import (
	"fmt"

	"haulm/internal/app"
	"haulm/internal/calendar"
	"haulm/internal/unit"
)

type planCmd struct {
	Seconds float64 `help:"How long to search. Default: 5; with --rest 1.1." placeholder:"N"`
	Seed    int64   `help:"Where the search begins." default:"1"`
	From    string  `help:"First day of the plan, or of its rest. Default: the next season, or today once it has begun." placeholder:"YYYY-MM-DD"`
	Rest    bool    `help:"Plan the rest again, around what stands; shown as changes to the plan, and kept only with --accept."`
	Unnoted string  `help:"With --rest: what was due before today and is not in the diary was \"done\" as planned, or \"missed\". Default: missed where the diary notes anything of the plan, done where it notes nothing." placeholder:"HOW"`
	Accept  bool    `help:"Keep the change that was shown last, or with --rest the one asked for now."`
	Simpler int     `help:"Take so many plantings out again, those missed least, and say what that costs or gains." placeholder:"N"`
	Undo    bool    `help:"Bring back the plan before this one."`
	JSON    bool    `help:"Print JSON."`
}

// Help gives an example.
func (planCmd) Help() string {
	return "Example: haulm plan --seconds 10\n\nIn the season: haulm plan --rest, then haulm plan --accept; haulm plan --undo goes back."
}

// Run plans the garden's year and keeps the plan, or changes the one there is.
func (c planCmd) Run(s *session) error {
	from, err := c.check()
	if err != nil {
		return err
	}
	desk, file, err := s.openDesk(false)
	if err != nil {
		return err
	}
	defer file.Close()
	switch {
	case c.Undo:
		if err := desk.UndoPlan(); err != nil {
			return err
		}
		s.printf("The plan before is back.\n")
		return nil
	case c.Simpler != 0:
		return c.simpler(s, desk)
	case c.Rest:
		return c.rest(s, desk, from)
	case c.Accept:
		return accept(s, desk)
	}
	return c.whole(s, desk, from)
}

// check reads the flags.
func (c *planCmd) check() (calendar.Date, error) {
	if c.Seconds < 0 {
		return calendar.None, fmt.Errorf("--seconds %g: give the search some time, 1 or more", c.Seconds)
	}
	if c.Undo && (c.Rest || c.Accept) {
		return calendar.None, fmt.Errorf("--undo goes alone: first see what comes back")
	}
	if c.Simpler != 0 && (c.Rest || c.Accept || c.Undo || c.From != "") {
		return calendar.None, fmt.Errorf("--simpler goes alone: it changes the plan there is")
	}
	if unnoted := app.Unnoted(c.Unnoted); unnoted != app.UnnotedAuto && unnoted != app.UnnotedDone && unnoted != app.UnnotedMissed {
		return calendar.None, fmt.Errorf("--unnoted %q: it must be done or missed", c.Unnoted)
	}
	if c.Unnoted != "" && !c.Rest {
		return calendar.None, fmt.Errorf("--unnoted says how --rest reads the diary: give --rest too")
	}
	return dayFlag("--from", c.From)
}

const usualPlanSeconds = 5

// whole plans the year from the beginning.
func (c planCmd) whole(s *session, desk *app.Desk, from calendar.Date) error {
	seconds := c.Seconds
	if seconds == 0 {
		seconds = usualPlanSeconds
	}
	planned, err := desk.MakePlan(s.ctx, from, seconds, c.Seed, s.climb())
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
	return nil
}

// rest plans the rest again and shows the change.
func (c planCmd) rest(s *session, desk *app.Desk, day calendar.Date) error {
	r, err := desk.PlanRest(s.ctx, app.RestQuestion{Day: day, Seconds: c.Seconds, Seed: c.Seed, Unnoted: app.Unnoted(c.Unnoted), Progress: s.climb()})
	if err != nil {
		return err
	}
	s.clearLine()
	if c.JSON {
		err = s.printJSON(r.Answer())
	} else {
		app.WriteRest(s.Out, r)
	}
	switch {
	case err != nil:
		return err
	case len(r.Changes) == 0:
		return desk.LeaveRest()
	case c.Accept:
		return accept(s, desk)
	case !c.JSON:
		s.printf("Keep this: haulm plan --accept\n")
	}
	return nil
}

// simpler takes plantings out.
func (c planCmd) simpler(s *session, desk *app.Desk) error {
	step, planned, err := desk.TakeSimpler(c.Simpler)
	if err != nil {
		return err
	}
	if c.JSON {
		return s.printJSON(step)
	}
	left := planned.Year.Totals.FirstYear.P50
	s.printf("%s fewer, %d left: by the plan's worth that %s; %.0f portions in a middling first year, %.0f before.\n",
		unit.Counted(step.Fewer, "planting", "plantings"), step.Left, step.Words(), left, left+step.Portions)
	s.printf("Back to the plan before: haulm plan --undo\n")
	return nil
}

func accept(s *session, desk *app.Desk) error {
	if err := desk.AcceptRest(); err != nil {
		return err
	}
	s.printf("Kept. Back to the plan before: haulm plan --undo\n")
	return nil
}

// clearLine wipes the progress line.
func (s *session) clearLine() {
	if s.Terminal {
		fmt.Fprint(s.Err, "\r\x1b[K")
	}
}
