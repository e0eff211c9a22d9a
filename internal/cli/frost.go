package cli

import (
	"cmp"
	"errors"
	"fmt"
	"strings"

	"haulm/internal/app"
	"haulm/internal/calendar"
	"haulm/internal/weather"
)

type frostCmd struct {
	recordFlags
	From int     `help:"First season year (north: calendar year; south: July to June)." placeholder:"YEAR" such:"a year such as 2026"`
	To   int     `help:"Last season year." placeholder:"YEAR" such:"a year such as 2026"`
	At   float64 `help:"A night at or below this many °C counts as frost." default:"0"`
	JSON bool    `help:"Print JSON."`
}

// Help gives an example.
func (frostCmd) Help() string {
	return "Example: haulm frost --place \"Ithaca, NY\"\n\nExample: haulm frost --record station.dly.gz --lat 40.8 --from 1981 --to 2010\n\nWithout a record the odds are those of a first estimate, and say so; without record and place those of your garden.\n\np90 of the last spring frost is the day by which it is past in 9 years of 10; p10 of the first autumn frost the day before which it comes in 1 year of 10."
}

// Run tells the odds of frost.
func (c frostCmd) Run(s *session) error {
	if c.From != 0 && c.To != 0 && c.From > c.To {
		return errors.New("--from lies after --to: give the earlier season year first")
	}
	found, err := c.at()
	if err != nil {
		return err
	}
	w, err := c.prepare(s)
	if err != nil {
		return err
	}
	answer := w.Frost(app.FrostQuestion{From: c.From, To: c.To, AtC: c.At})
	if answer.Years == 0 {
		return noYears(w.Measured, c.From, c.To)
	}
	if c.JSON {
		return s.printJSON(struct {
			*withPlace
			app.FrostAnswer
		}{placeBefore(found), answer})
	}
	printOwn(s, w.garden)
	printPlace(s, found, c.Elev)
	printFrost(s, answer)
	printRests(s, found, answer.Estimated, answer.Source)
	return nil
}

// noYears says why there are no odds.
func noYears(rec *weather.Record, from, to int) error {
	first, last := rec.Start, rec.End()-1
	if from == 0 && to == 0 {
		return fmt.Errorf("the record, %s to %s, holds no season year that is whole enough for odds of frost", first, last)
	}
	return fmt.Errorf("no season year asked for by --from and --to is whole enough on record: it runs from %s to %s", first, last)
}

// withPlace goes before an answer for a place that was named.
type withPlace struct {
	Place       *app.PlaceAnswer `json:"place"`
	Attribution string           `json:"place_attribution"`
}

func placeBefore(found *app.PlaceAnswer) *withPlace {
	if found == nil {
		return nil
	}
	return &withPlace{found, app.PlaceAttribution}
}

func printPlace(s *session, found *app.PlaceAnswer, elevM *float64) {
	if found != nil {
		s.printf("%s: %.2f, %.2f, %.0f m\n", found.FullName(), found.LatDeg, found.LonDeg, *elevM)
	}
}

// printRests says what an estimate rests on, and who made the place's figures.
func printRests(s *session, found *app.PlaceAnswer, estimated bool, source string) {
	if estimated && source != "" {
		s.printf("%s.\n", strings.TrimSuffix(strings.ToUpper(source[:1])+source[1:], "."))
	}
	if found != nil {
		s.printf("%s\n", app.PlaceAttribution)
	}
}

func printFrost(s *session, a app.FrostAnswer) {
	s.printf("Nights at or below %g °C, %d years", a.AtC, a.Years)
	if a.Estimated {
		s.printf(" (estimated, not measured)")
	}
	s.printf("\n%-22s %-10s %-10s %s\n", "", "1 in 10", "half", "9 in 10")
	s.printf("%-22s %-10s %-10s %s\n", "last frost of spring", monthDay(a.LastSpring.P10), monthDay(a.LastSpring.P50), monthDay(a.LastSpring.P90))
	s.printf("%-22s %-10s %-10s %s\n", "first frost of autumn", monthDay(a.FirstAutumn.P10), monthDay(a.FirstAutumn.P50), monthDay(a.FirstAutumn.P90))
	if a.FrostFreeDays != nil {
		s.printf("%-22s %-10d %-10d %d days\n", "free of frost", a.FrostFreeDays.P10, a.FrostFreeDays.P50, a.FrostFreeDays.P90)
	}
	if a.YearsWithoutFrost > 0 {
		s.printf("%d of %d years had none.\n", a.YearsWithoutFrost, a.Years)
	}
}

// monthDay shows a day of the year, or a dash where there is none.
func monthDay(md *calendar.MonthDay) string {
	if md == nil {
		return "–"
	}
	return cmp.Or(md.In(2001).Format("2 Jan"), "–")
}
