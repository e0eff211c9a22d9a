package cli

import (
	"errors"
	"fmt"

	"haulm/internal/app"
	"haulm/internal/calendar"
)

type growCmd struct {
	recordFlags
	Crop    string  `help:"The crop, by any of its names." required:"" placeholder:"NAME"`
	Route   string  `help:"How it is raised: drilled, module, sets, tubers … Default: its usual way." placeholder:"NAME"`
	Class   string  `help:"Kind by earliness: early, mid or late." placeholder:"CLASS"`
	Cover   string  `help:"What stands over it: fleece, cloche, frame, tunnel …" placeholder:"NAME"`
	RainFed bool    `help:"Nobody waters it: rain must do."`
	Soil    string  `help:"Texture of rain-fed ground: sand, sandy loam, loam, clay … Default: loam." placeholder:"NAME"`
	Pot     float64 `help:"In a pot of so many litres." placeholder:"LITRES"`
	Every   float64 `name:"pick-every" help:"Days between pickings. Default: as often as keeps it bearing." placeholder:"DAYS"`
	Old     bool    `help:"Perennials: an old plant in every season on record."`
	Start   string  `help:"Day of sowing or planting, MM-DD; needed unless --old." placeholder:"MM-DD"`
	SetOut  string  `help:"Day on which raised plants went out, MM-DD. Default: when they are fit and nights are mild." placeholder:"MM-DD"`
	From    int     `help:"First year." placeholder:"YEAR" such:"a year such as 2026"`
	To      int     `help:"Last year." placeholder:"YEAR" such:"a year such as 2026"`
	JSON    bool    `help:"Print JSON."`
}

// Help gives an example.
func (growCmd) Help() string {
	return "Example: haulm grow --crop courgette --start 05-12 --place Kilkenny\n\nExample: haulm grow --crop courgette --start 05-12 --record station.csv --lat 53.4\n\nWithout record and place it grows in the weather of your garden. A year that gave nothing counts as later than any day in the odds."
}

// Run grows the crop through every year on record.
func (c growCmd) Run(s *session) error {
	question, err := c.question()
	if err != nil {
		return err
	}
	found, err := c.at()
	if err != nil {
		return err
	}
	w, err := c.prepare(s)
	if err != nil {
		return err
	}
	if c.Lat == nil && w.report != nil && !w.report.HasSite {
		return errors.New("the record does not say where it was kept: give its latitude with --lat, or its --place")
	}
	answer, err := w.Grow(question, s.catalogue)
	if err != nil {
		return err
	}
	if c.JSON {
		return s.printJSON(struct {
			*withPlace
			*app.GrowAnswer
		}{placeBefore(found), answer})
	}
	printOwn(s, w.garden)
	printPlace(s, found, c.Elev)
	printGrow(s, answer)
	printRests(s, found, answer.Estimated, w.Measured.Source)
	return nil
}

func (c growCmd) question() (app.GrowQuestion, error) {
	q := app.GrowQuestion{Crop: c.Crop, Route: c.Route, Class: c.Class, Cover: c.Cover, From: c.From, To: c.To,
		RainFed: c.RainFed, Soil: c.Soil, PotLitres: c.Pot, PickEvery: c.Every, Standing: c.Old}
	if c.Start == "" && c.Old {
		return q, nil
	}
	if c.Start == "" {
		return q, errors.New("missing flags: --start=MM-DD, the day of sowing or planting")
	}
	var err error
	if q.Start, err = calendar.ParseMonthDay(c.Start); err != nil {
		return q, fmt.Errorf("--start: %w", err)
	}
	if c.SetOut != "" {
		day, err := calendar.ParseMonthDay(c.SetOut)
		if err != nil {
			return q, fmt.Errorf("--set-out: %w", err)
		}
		q.SetOut = &day
	}
	return q, nil
}

func printGrow(s *session, a *app.GrowAnswer) {
	s.printf("%s, %s, %s kind", a.Name, a.Route, a.Class)
	if a.Cover != "" {
		s.printf(", under %s", a.Cover)
	}
	if a.Ground != "" {
		s.printf(", %s", a.Ground)
	}
	if a.Estimated {
		s.printf(" (weather estimated, not measured)")
	}
	s.printf("\n%-12s %-12s %-12s %-12s %-12s %8s  %s\n", "start", "up", "set out", "first pick", "last pick", "kg/m2", "mishap")
	for _, y := range a.Years {
		s.printf("%-12s %-12s %-12s %-12s %-12s %8.1f  %s\n", y.Start, dash(y.Emergence), dash(y.Transplant), dash(y.FirstPick), dash(y.LastPick), y.KgPerM2, mishapWords(y))
	}
	s.printf("Picked in %d of %d years; first picking by %s in 1 year of 10, %s in half, %s in 9 of 10.\n",
		a.Made, a.Made+a.Lost, monthDay(a.FirstPick.P10), monthDay(a.FirstPick.P50), monthDay(a.FirstPick.P90))
	if a.LeftOut > 0 {
		s.printf("%d years were left out: the record has gaps in them.\n", a.LeftOut)
	}
	for _, caution := range a.Entry.Cautions {
		s.printf("Care: %s: %s.\n", caution.Situation, caution.Precaution)
	}
}

func mishapWords(y app.GrowYear) string {
	switch {
	case y.Mishap != "" && y.MishapDay.Known():
		return fmt.Sprintf("%s, %s", y.Mishap, y.MishapDay.Format("2 Jan"))
	case y.CutShort:
		return "the record ends"
	}
	return y.Mishap
}

func dash(d calendar.Date) string {
	if !d.Known() {
		return "–"
	}
	return d.String()
}
