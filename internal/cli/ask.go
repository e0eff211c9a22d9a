package cli

import (
	"fmt"
	"strings"

	"haulm/internal/app"
	"haulm/internal/unit"
)

// askCmd gathers the questions about the plan.
type askCmd struct {
	Worth     askWorthCmd     `cmd:"" help:"What one more square metre is worth, where and in which month."`
	Without   askWithoutCmd   `cmd:"" help:"What it costs to do without a crop, or several."`
	With      askWithCmd      `cmd:"" help:"What a crop would bring or cost, grown on at least so much ground."`
	Hours     askHoursCmd     `cmd:"" help:"What more time a week is worth, or what less costs."`
	Shortlist askShortlistCmd `cmd:"" help:"Which 1, 2, 3, … dishes feed the table best, and how sure that is."`
	Years     askYearsCmd     `cmd:"" help:"What it costs to plan for the bad years."`
}

// Help gives an example.
func (askCmd) Help() string {
	return "Example: haulm ask without courgettes\n\nQuestions are about the plan kept (haulm plan makes it) and change nothing. Worth is counted in first portions: the first portion of a usual dish in a week that is not hungry counts 1, later ones less."
}

// askFlags are what every question takes.
type askFlags struct {
	Seconds float64 `help:"How long to search; longer makes the answer surer." default:"10"`
	Seed    int64   `help:"Where the search begins." default:"1"`
	JSON    bool    `help:"Print JSON."`
}

// desk opens the garden and reads the flags. The caller closes the file.
func (f askFlags) desk(s *session) (*app.Desk, func() error, app.AskQuestion, error) {
	if !(f.Seconds > 0) {
		return nil, nil, app.AskQuestion{}, fmt.Errorf("--seconds %g: give the search some time, 1 or more", f.Seconds)
	}
	desk, file, err := s.openDesk(false)
	if err != nil {
		return nil, nil, app.AskQuestion{}, err
	}
	return desk, file.Close, app.AskQuestion{Seconds: f.Seconds, Seed: f.Seed}, nil
}

// answer prints an answer in words, or as JSON.
func (f askFlags) answer(s *session, answer any, words []string) error {
	s.clearLine()
	if f.JSON {
		return s.printJSON(answer)
	}
	for _, w := range words {
		s.printf("%s\n", w)
	}
	return nil
}

type askWithoutCmd struct {
	askFlags
	Crops []string `arg:"" help:"Dishes or crops by any of their names." placeholder:"CROP"`
}

// Help gives an example.
func (askWithoutCmd) Help() string { return "Example: haulm ask without courgettes \"runner beans\"" }

// Run tells what some crops are worth.
func (c askWithoutCmd) Run(s *session) error {
	desk, done, q, err := c.desk(s)
	if err != nil {
		return err
	}
	defer done()
	a, err := desk.AskWithout(s.ctx, c.Crops, q)
	if err != nil {
		return err
	}
	return c.answer(s, a, a.Words)
}

type askWithCmd struct {
	askFlags
	Crop string  `arg:"" help:"A dish or crop by any of its names." placeholder:"CROP"`
	M2   float64 `help:"Square metres in one piece, at least." default:"1" name:"m2"`
}

// Help gives an example.
func (askWithCmd) Help() string { return "Example: haulm ask with sweetcorn --m2 2" }

// Run tells what a crop would bring or cost.
func (c askWithCmd) Run(s *session) error {
	desk, done, q, err := c.desk(s)
	if err != nil {
		return err
	}
	defer done()
	a, err := desk.AskWith(s.ctx, c.Crop, c.M2, q)
	if err != nil {
		return err
	}
	return c.answer(s, a, a.Words)
}

type askHoursCmd struct {
	askFlags
	Minutes float64 `help:"Minutes a week more; below 0 for less." default:"30"`
}

// Help gives an example.
func (askHoursCmd) Help() string {
	return "Example: haulm ask hours --minutes 30\n\nFor half an hour less: haulm ask hours --minutes -30"
}

// Run tells what time is worth.
func (c askHoursCmd) Run(s *session) error {
	desk, done, q, err := c.desk(s)
	if err != nil {
		return err
	}
	defer done()
	a, err := desk.AskHours(s.ctx, c.Minutes, q)
	if err != nil {
		return err
	}
	return c.answer(s, a, a.Words)
}

type askYearsCmd struct{ askFlags }

// Help gives an example.
func (askYearsCmd) Help() string { return "Example: haulm ask years" }

// Run sets the plan for the bad years beside the plan for the mean.
func (c askYearsCmd) Run(s *session) error {
	desk, done, q, err := c.desk(s)
	if err != nil {
		return err
	}
	defer done()
	a, err := desk.AskYears(s.ctx, q)
	if err != nil {
		return err
	}
	return c.answer(s, a, a.Words)
}

type askWorthCmd struct{ askFlags }

// Help gives an example.
func (askWorthCmd) Help() string { return "Example: haulm ask worth" }

// Run tells what ground is worth by place and month.
func (c askWorthCmd) Run(s *session) error {
	desk, done, q, err := c.desk(s)
	if err != nil {
		return err
	}
	defer done()
	a, err := desk.AskWorth(s.ctx, q)
	if err != nil {
		return err
	}
	if c.JSON {
		return c.answer(s, a, nil)
	}
	s.clearLine()
	printWorth(s, a)
	return c.answer(s, a, append([]string{""}, a.Words...))
}

// printWorth is the table of prices, one line a place.
func printWorth(s *session, a *app.WorthAnswer) {
	s.printf("The price of one more m² (or pot), in first portions, month by month and over the plan\n%-16s", "")
	for _, m := range a.Months {
		s.printf("%5s", m.Format("Jan"))
	}
	s.printf("%7s\n", "all")
	for _, p := range a.Places {
		name := p.Place
		if p.Pots {
			name += " (pot)"
		}
		s.printf("%-16s", name)
		for _, x := range p.Month {
			s.printf("%5s", priceWords(x))
		}
		s.printf("%7.1f\n", p.All)
	}
}

func priceWords(x float64) string {
	if x < 0.05 {
		return "·"
	}
	return unit.Number(x, 1)
}

type askShortlistCmd struct {
	askFlags
	Most int `help:"The longest list." default:"10"`
}

// Help gives an example.
func (askShortlistCmd) Help() string {
	return "Example: haulm ask shortlist --most 5 --seconds 20"
}

// Run finds the best short lists.
func (c askShortlistCmd) Run(s *session) error {
	desk, done, q, err := c.desk(s)
	if err != nil {
		return err
	}
	defer done()
	var saw func(*app.ShortlistAnswer)
	if s.Terminal {
		saw = func(a *app.ShortlistAnswer) { fmt.Fprintf(s.Err, "\rlists of up to %d ", len(a.Lines)-1) }
	}
	a, err := desk.AskShortlist(s.ctx, c.Most, q, saw)
	if err != nil {
		return err
	}
	if c.JSON {
		return c.answer(s, a, nil)
	}
	s.clearLine()
	printShortlist(s, a)
	return c.answer(s, a, append([]string{""}, a.Words...))
}

func printShortlist(s *session, a *app.ShortlistAnswer) {
	s.printf("The best list of so many dishes, its worth in first portions, what it adds to the list before\n")
	for k := range a.Lines {
		l := &a.Lines[k]
		if k == 0 {
			continue
		}
		what := "+ " + strings.Join(l.Joined, ", ")
		if len(l.Left) > 0 {
			what += ", without " + strings.Join(l.Left, ", ")
		}
		s.printf("%2d  %-34s %6.0f  +%-4.0f %s; %.0f portions in a middling year\n", k, what, l.Value, l.Adds, l.ProofWords(), l.Portions.P50)
	}
}
