package cli

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"haulm/internal/app"
	"haulm/internal/season"
	"haulm/internal/unit"
)

type fillCmd struct {
	Place  string `arg:"" optional:"" help:"The place, by its name or the beginning of it." placeholder:"PLACE"`
	FromCM int    `help:"Where the free stretch begins along the place. Default: the longest that is free." name:"from-cm" placeholder:"CM"`
	ToCM   int    `help:"Where it ends." name:"to-cm" placeholder:"CM"`
	Day    string `help:"Another day than today." placeholder:"YYYY-MM-DD"`
	Take   string `help:"Put this one of the offers into the plan, begun today." placeholder:"CROP"`
	Undo   bool   `help:"Take the offer that was put into the plan last out again."`
	JSON   bool   `help:"Print JSON."`
}

// Help gives an example.
func (fillCmd) Help() string {
	return "Example: haulm fill \"Long bed\" --from-cm 120 --to-cm 240\n\nThen haulm fill \"Long bed\" --take turnip puts the turnips into the plan, and haulm today asks for them."
}

// Run tells what can still go into a gap.
func (c fillCmd) Run(s *session) error {
	if c.FromCM < 0 || c.ToCM < 0 || c.ToCM > 0 && c.ToCM <= c.FromCM || c.FromCM > 0 && c.ToCM == 0 {
		return fmt.Errorf("--from-cm %d --to-cm %d: give both, the smaller first, or neither", c.FromCM, c.ToCM)
	}
	if c.Undo {
		return c.undo(s)
	}
	if c.Place == "" {
		return errors.New("name the place that has room, such as haulm fill \"Long bed\"")
	}
	day, err := dayFlag("--day", c.Day)
	if err != nil {
		return err
	}
	q := app.FillQuestion{Place: c.Place, FromCM: c.FromCM, ToCM: c.ToCM, Day: day}
	desk, file, err := s.openDesk(false)
	if err != nil {
		return err
	}
	defer file.Close()
	if c.Take != "" {
		return c.take(s, desk, q)
	}
	answer, err := desk.Fill(q)
	if err != nil {
		return err
	}
	if c.JSON {
		return s.printJSON(answer)
	}
	printFill(s, answer)
	return nil
}

// take puts an offer into the plan.
func (c fillCmd) take(s *session, desk *app.Desk, q app.FillQuestion) error {
	key, err := c.offered(s, desk, q)
	if err != nil {
		return err
	}
	entered, err := desk.EnterOffer(app.EnterQuestion{Fill: q, Crop: key})
	if err != nil {
		return err
	}
	if c.JSON {
		return s.printJSON(entered)
	}
	s.printf("%s.\nNot right? haulm fill --undo\n", entered.Says)
	return nil
}

// offered is the crop named: of all that the name may mean one that is offered.
func (c fillCmd) offered(s *session, desk *app.Desk, q app.FillQuestion) (key string, err error) {
	meant, err := s.catalogue.Meant(c.Take)
	if err != nil {
		return "", err
	}
	answer, err := desk.Fill(q)
	if err != nil {
		return "", err
	}
	for _, cr := range meant {
		if slices.ContainsFunc(answer.Offers, func(o season.Offer) bool { return o.CropKey == cr.Key }) {
			return cr.Key, nil
		}
	}
	return meant[0].Key, nil // EnterOffer says what is offered instead
}

func (c fillCmd) undo(s *session) error {
	return s.withDesk(func(desk *app.Desk) error {
		words, err := desk.UndoEnter()
		if err != nil {
			return err
		}
		s.printf("%s\n", words)
		return nil
	})
}

func printFill(s *session, a *app.FillAnswer) {
	s.printf("%s, %.1f to %.1f m, is free", a.Gap.Place, float64(a.Gap.FromCM)/100, float64(a.Gap.ToCM)/100)
	if a.Gap.Until.Known() {
		s.printf(" until %s, when %s takes it", a.Gap.Until.Format("2 January 2006"), a.Gap.Next)
	}
	s.printf(".\n")
	if len(a.Offers) == 0 {
		s.printf("Nothing that the table wants makes it 7 times in 10 from today.\n")
		return
	}
	s.printf("Days and amounts hold %s.\nSlugs, disease or a missed sowing are not counted.\n", a.Holds)
	for i := range a.Offers {
		printOffer(s, &a.Offers[i])
	}
}

func printOffer(s *session, o *season.Offer) {
	s.printf("\n%s: %s\n", o.Name, o.How)
	s.printf("  makes it %s, first picking %s\n", season.TimesInTen(o.Chance), season.Between(o.FirstPick))
	s.printf("  %s, %s for the table\n", o.Weight, unit.Span(o.LowPortions, o.HighPortions, 0, "portion", "portions"))
	s.printf("  needs %s\n", strings.Join(o.Needs, ", "))
	for _, c := range o.Cautions {
		s.printf("  Care: %s\n", c)
	}
}
