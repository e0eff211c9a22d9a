package cli

import (
	"fmt"

	"haulm/internal/app"
	"haulm/internal/calendar"
)

type lockCmd struct {
	List lockListCmd `cmd:"" default:"1" help:"What is kept and what is banned, numbered."`
	Keep lockKeepCmd `cmd:"" help:"Keep a planting of the plan: every plan has it from now on."`
	Ban  lockBanCmd  `cmd:"" help:"Keep a dish out of a place, or out of the garden."`
	Free lockFreeCmd `cmd:"" help:"Take back what was kept or banned."`
}

// Help gives an example.
func (lockCmd) Help() string {
	return "Example: haulm lock keep \"Long bed\" leek --always\n\nhaulm lock list shows what is kept and banned."
}

type lockListCmd struct {
	JSON bool `help:"Print JSON."`
}

// Run lists the locks.
func (c lockListCmd) Run(s *session) error {
	return s.withDesk(func(desk *app.Desk) error {
		g, err := desk.Garden()
		if err != nil {
			return err
		}
		words := desk.LockWords(g)
		if c.JSON {
			return s.printJSON(append([]string{}, words...))
		}
		if len(words) == 0 {
			s.printf("Nothing is kept and nothing is banned.\n")
		}
		for i, line := range words {
			s.printf("%2d  %s\n", i+1, line)
		}
		return nil
	})
}

type lockKeepCmd struct {
	Place  string `arg:"" help:"The place, by its name or the beginning of it." placeholder:"PLACE"`
	Crop   string `arg:"" help:"The crop." placeholder:"CROP"`
	Start  string `help:"Which of several plantings: the day on which it is begun." placeholder:"YYYY-MM-DD"`
	Always bool   `help:"Every year, begun when it does best there."`
}

// Help gives an example.
func (lockKeepCmd) Help() string { return "Example: haulm lock keep \"Long bed\" leek --always" }

// Run keeps a planting.
func (c lockKeepCmd) Run(s *session) error {
	return s.withDesk(func(desk *app.Desk) error {
		found, err := desk.PlantingsOf(c.Place, c.Crop)
		if err != nil {
			return err
		}
		p := found[0]
		if c.Start != "" {
			day, err := calendar.Parse(c.Start)
			if err != nil {
				return fmt.Errorf("--start: %w", err)
			}
			p = nil
			for _, one := range found {
				if one.Start == day {
					p = one
				}
			}
			if p == nil {
				return fmt.Errorf("--start %s: none of them is begun then; the first is begun on %s", day, found[0].Start)
			}
		} else if len(found) > 1 {
			return fmt.Errorf("the plan has %d plantings of it there: say which with --start; the first is begun on %s, the last on %s",
				len(found), found[0].Start, found[len(found)-1].Start)
		}
		return s.locked(desk, "Kept", desk.Keep(app.KeepOf(p, c.Always)))
	})
}

type lockBanCmd struct {
	Dish string `arg:"" help:"The dish or crop." placeholder:"DISH"`
	In   string `help:"Only in this place." placeholder:"PLACE"`
}

// Help gives an example.
func (lockBanCmd) Help() string { return "Example: haulm lock ban courgette --in \"Wall border\"" }

// Run bans a dish.
func (c lockBanCmd) Run(s *session) error {
	return s.withDesk(func(desk *app.Desk) error {
		l, err := desk.BanNamed(c.Dish, c.In)
		if err != nil {
			return err
		}
		return s.locked(desk, "Banned", desk.Ban(l))
	})
}

type lockFreeCmd struct {
	No int `arg:"" name:"number" such:"its number in haulm lock list, such as 1" help:"Its number in haulm lock list."`
}

// Help gives an example.
func (lockFreeCmd) Help() string { return "Example: haulm lock free 1" }

// Run takes a lock back.
func (c lockFreeCmd) Run(s *session) error {
	return s.withDesk(func(desk *app.Desk) error {
		g, err := desk.Garden()
		if err != nil {
			return err
		}
		switch n := c.No - 1; {
		case n < 0 || n >= len(g.Keeps)+len(g.Locks):
			return fmt.Errorf("there is no number %d: haulm lock list shows what is kept and banned", c.No)
		case n < len(g.Keeps):
			return s.locked(desk, "Free again", desk.LetGo(g.Keeps[n]))
		default:
			return s.locked(desk, "Free again", desk.Unban(g.Locks[n-len(g.Keeps)]))
		}
	})
}

// locked says what a change of the locks did to the plan.
func (s *session) locked(desk *app.Desk, done string, err error) error {
	if err != nil {
		return err
	}
	s.printf("%s. ", done)
	planned, err := desk.Planned()
	if err != nil {
		s.printf("The next plan minds it.\n")
		return nil
	}
	if n := len(planned.Unfit); n > 0 {
		s.printf("%d of the plan's plantings no longer fit: haulm plan --rest plans around that.\n", n)
		return nil
	}
	s.printf("The plan stands as it is.\n")
	return nil
}

// withDesk opens the garden for one deed.
func (s *session) withDesk(deed func(*app.Desk) error) error {
	desk, file, err := s.openDesk(false)
	if err != nil {
		return err
	}
	defer file.Close()
	return deed(desk)
}
