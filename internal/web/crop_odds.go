package web

import (
	"cmp"
	"fmt"
	"html/template"
	"time"

	"haulm/internal/app"
	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/figure"
	"haulm/internal/grow"
)

// oddsAnswer is the crop's odds from the day asked for, and from every
// fortnight of the year.
type oddsAnswer struct {
	Sentence string
	Strip    template.HTML
	Starts   []startLine
}

// startLine is one start of the year.
type startLine struct {
	Day, Href        string
	Made             string
	P10, P50, P90    string
	Odds             template.HTML
	Share            int // of the years, per cent
	Chosen, Hopeless bool
	LossSays         string
}

// answerOdds grows the crop from the day asked for and from every fortnight.
func (p *Pages) answerOdds(page *cropPage, c *crop.Crop) error {
	q := page.Ask.question(c)
	answer, err := p.desk.Grow(q)
	if err != nil {
		return err
	}
	days := fortnights()
	starts, err := p.desk.Starts(q, days)
	if err != nil {
		return err
	}
	a := &oddsAnswer{Sentence: oddsSentence(page.Ask, answer, q.Start)}
	wide := cropOdds(page.Ask, answer, p.coming(q.Start))
	narrow := wide
	narrow.WidthPX = phonePX
	a.Strip = block(wide, narrow, 3)
	for i, start := range starts {
		if start != nil {
			a.Starts = append(a.Starts, startLineOf(page.Ask, start, days[i], q.Start))
		}
	}
	page.Answer = a
	return nil
}

// coming is the next such day from today on.
func (p *Pages) coming(day calendar.MonthDay) calendar.Date {
	today := p.desk.Today()
	if next := day.In(today.Year()); next >= today {
		return next
	}
	return day.In(today.Year() + 1)
}

// fortnights are the 1st and 15th of every month.
func fortnights() []calendar.MonthDay {
	var days []calendar.MonthDay
	for m := time.January; m <= time.December; m++ {
		days = append(days, calendar.MonthDay{Month: m, Day: 1}, calendar.MonthDay{Month: m, Day: 15})
	}
	return days
}

func oddsSentence(f oddsForm, a *app.GrowAnswer, start calendar.MonthDay) string {
	years := len(a.Spread.Courses)
	say := fmt.Sprintf("Begun %s on %s it would have been picked in %d of %d years", f.Route, monthDay(&start), a.Made, years)
	if a.FirstPick.P50 != nil {
		say += ", in half of all by " + monthDay(a.FirstPick.P50)
	}
	if a.FirstPick.P90 != nil {
		say += ", in nine of ten by " + monthDay(a.FirstPick.P90)
	}
	if a.LeftOut > 0 {
		say += fmt.Sprintf("; %s left out, the record has gaps in them", counted(a.LeftOut, "year is", "years are"))
	}
	return say + "."
}

func cropOdds(f oddsForm, a *app.GrowAnswer, from calendar.Date) figure.OddsStrip {
	row := figure.OddsRow{
		Label: a.Name, Note: f.Route + " " + dayMonth(from), Family: a.Entry.Family, Start: from,
		P10: noDay, P50: noDay, P90: noDay,
	}
	odds := a.Spread.FirstPick()
	for _, at := range []struct {
		after int
		to    *calendar.Date
	}{{odds.P10, &row.P10}, {odds.P50, &row.P50}, {odds.P90, &row.P90}} {
		if at.after != grow.Never {
			*at.to = from.Add(at.after)
		}
	}
	for _, c := range a.Spread.Courses {
		row.Years = append(row.Years, oddsYear(c))
	}
	return figure.OddsStrip{Frame: figure.Frame{ID: "odds"}, Rows: []figure.OddsRow{row}}
}

// drawnYear is the year on which the years on record are laid; any without a
// leap day would do.
const drawnYear = 2001

func oddsYear(c grow.Course) figure.OddsYear {
	year := figure.OddsYear{Year: c.Start.Year(), Started: c.Start, Ready: noDay}
	if !c.Failed() {
		year.Ready = c.FirstPick
	}
	if c.Mishap.Kind != "" {
		year.Mishap = string(c.Mishap.Kind)
		if c.Mishap.Day.Known() {
			year.Mishap += ", " + dayMonth(c.Mishap.Day)
		}
	}
	return year
}

// startSpanDays is the stretch after New Year over which first pickings of
// every start are drawn: two years.
const startSpanDays = 2 * 365

func startLineOf(f oddsForm, a *app.GrowAnswer, day, chosen calendar.MonthDay) startLine {
	years := len(a.Spread.Courses)
	line := startLine{
		Day: shortMonthDay(&day), Href: f.href(a.Crop, day), Made: fmt.Sprintf("%d of %d", a.Made, years),
		P10: shortMonthDay(a.FirstPick.P10), P50: shortMonthDay(a.FirstPick.P50), P90: shortMonthDay(a.FirstPick.P90),
		Chosen: day == chosen, Hopeless: a.Made == 0,
	}
	if years > 0 {
		line.Share = 100 * a.Made / years
	}
	t := ticks{Family: a.Entry.Family, Span: startSpanDays, Lost: a.Lost, Says: line.Made + " years made it"}
	newYear := calendar.On(drawnYear, 1, 1)
	for _, c := range a.Spread.Courses {
		if !c.Failed() {
			t.Days = append(t.Days, min(int(day.In(drawnYear)-newYear)+int(c.FirstPick-c.Start), t.Span))
		}
	}
	line.Odds = t.SVG()
	if _, by := a.Spread.Lost(); a.Lost > 0 {
		worst := grow.MishapKind("")
		for kind, n := range by {
			if n > by[worst] || n == by[worst] && kind > worst {
				worst = kind
			}
		}
		line.LossSays = cmp.Or(string(worst), "gave nothing")
	}
	return line
}
