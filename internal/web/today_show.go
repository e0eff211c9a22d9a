package web

import (
	"cmp"
	"errors"
	"fmt"
	"net/http"
	"slices"

	"haulm/internal/app"
	"haulm/internal/calendar"
	"haulm/internal/diary"
	"haulm/internal/season"
	"haulm/internal/unit"
)

// todayPage is one morning.
type todayPage struct {
	written
	Day     string
	Heading string
	Minutes string    // that the jobs of the page take
	Known   string    // how far this year's own weather is known
	Jobs    []jobLine // the five
	More    []jobLine // due as well
	Coming  []comingDay
	Next    string // what the plan begins next, where nothing is due or near
	Alarms  []alarmLine
	Water   []waterLine
	Can     string // what a can holds
	Pick    []pickLine
	Stands  []standingLine
	Form    noteForm
	Ahead   forecastForm
}

// MoreAlarms is how many there are beside the first.
func (page todayPage) MoreAlarms() int { return max(0, len(page.Alarms)-1) }

// jobsShown is how many things a morning has room for.
const jobsShown = 5

// pickLine is one crop that is ready.
type pickLine struct{ Crop, Where, About string }

// standingLine is what one planting will do.
type standingLine struct{ Href, Crop, Where, Stage, Says string }

// todayShow is what to do this morning, and why.
func (p *Pages) todayShow(w http.ResponseWriter, r *http.Request) error {
	if _, err := p.desk.Planned(); err != nil {
		if errors.Is(err, app.ErrNoPlan) {
			return seeOther(w, r, "/plan")
		}
		return err
	}
	morning, err := p.morning()
	if err != nil {
		return err
	}
	g, err := p.desk.Garden()
	if err != nil {
		return err
	}
	page := newTodayPage(morning, units(g), p.desk.Kept())
	page.written = p.written(r)
	page.Ahead = p.forecastForm(g, "/today")
	return p.show(w, http.StatusOK, "today.html", sheet{Title: "Today", Nav: "today", Body: page})
}

func newTodayPage(m *season.State, u unit.System, kept bool) todayPage {
	page := todayPage{Day: m.Today.Format("Monday 2 January"), Known: knownWords(m), Form: noteForm{From: "/today", Kept: kept},
		Water: waterLines(m), Can: unit.Number(diary.Measures()["can_l"].Value, 0) + " litres", Stands: standingLines(m)}
	total, watered := 0.0, false
	for i := range m.Jobs {
		j := &m.Jobs[i]
		switch {
		case j.Due > m.Today:
			page.Coming = coming(page.Coming, j)
		case j.Kind == waterJob && watered:
			continue // it is part of the round with the can
		case j.Kind == waterJob:
			watered = true
			round := newRound(m, page.Water)
			total += round.minutes
			page.put(round.jobLine)
		default:
			if len(page.Jobs) < jobsShown {
				total += j.Minutes
			}
			page.put(newJobLine(j, m, u))
		}
	}
	page.Minutes, page.Heading = capital(minuteWords(total)), headingOf(len(page.Jobs))
	for i := range m.Alarms {
		page.Alarms = append(page.Alarms, newAlarmLine(&m.Alarms[i], m.Today))
	}
	page.Pick, page.Next = pickLines(m), app.NextWords(m)
	slices.SortStableFunc(page.Coming, func(a, b comingDay) int { return cmp.Compare(a.due, b.due) })
	return page
}

// put numbers a job in the order of the page; the first few are the morning's.
func (page *todayPage) put(line jobLine) {
	line.No, line.Kept = len(page.Jobs)+len(page.More)+1, page.Form.Kept
	for _, above := range slices.Concat(page.Jobs, page.More) {
		if len(line.Cautions) > 0 && slices.Equal(above.Cautions, line.Cautions) {
			line.Cautions, line.CareAs = nil, above.No
		}
	}
	if len(page.Jobs) < jobsShown {
		page.Jobs = append(page.Jobs, line)
		return
	}
	page.More = append(page.More, line)
}

func headingOf(jobs int) string {
	words := []string{"Nothing to do today", "One thing for today", "Two things for today", "Three things for today", "Four things for today", "Five things for today"}
	return words[min(jobs, len(words)-1)]
}

// minuteWords is "25 minutes" or "2 h 10 min".
func minuteWords(minutes float64) string {
	whole := int(minutes + 0.5)
	if whole < 90 {
		return counted(whole, "minute", "minutes")
	}
	return fmt.Sprintf("%d h %02d min", whole/60, whole%60)
}

// knownWords says what the morning goes by.
func knownWords(m *season.State) string {
	out := "No weather of this year is measured, so "
	switch {
	case m.Measured.Known() && m.Forecast.Known():
		out = fmt.Sprintf("This year’s weather is measured to %s and forecast to %s; from there on ", dayMonth(m.Measured), dayMonth(m.Forecast))
	case m.Measured.Known():
		out = fmt.Sprintf("This year’s weather is measured to %s; from there on ", dayMonth(m.Measured))
	case m.Forecast.Known():
		out = fmt.Sprintf("No weather of this year is measured; it is forecast to %s, and from there on ", dayMonth(m.Forecast))
	}
	out += "each of " + m.YearsWords() + " stands for it."
	if made := m.MadeWords(); made != "" {
		out += " With " + made + "."
	}
	return out + " " + m.SpanWords() + "."
}

// pickLines are the crops that can be picked now.
func pickLines(m *season.State) []pickLine {
	about := map[string]string{}
	for i := range m.Jobs {
		if j := &m.Jobs[i]; (j.Kind == "pick" || j.Kind == "lift") && j.Due <= m.Today {
			about[j.Key] = j.Amount
		}
	}
	var out []pickLine
	for i := range m.Plantings {
		s := &m.Plantings[i]
		if s.Stage != season.Picking {
			continue
		}
		line := pickLine{capital(s.Name), s.Where, about[s.Key]}
		if line.About == "" {
			line.About = "picked over lately"
		}
		out = append(out, line)
	}
	return out
}

// standingLines tell of all that grows, the nearest picking first.
func standingLines(m *season.State) []standingLine {
	order := slices.Clone(m.Plantings)
	slices.SortStableFunc(order, func(a, b season.Standing) int {
		return cmp.Or(cmp.Compare(rank(a.Stage), rank(b.Stage)), cmp.Compare(firstDay(a), firstDay(b)))
	})
	var out []standingLine
	for i := range order {
		s := &order[i]
		if s.Stage == season.Waiting || s.Stage == season.Cleared || s.Stage == season.LostAll {
			continue
		}
		out = append(out, standingLine{aboutHref(s.Key), capital(s.Name), s.Where, string(s.Stage), capital(sentence(s.Words))})
	}
	return out
}

// rank puts what is picked before what grows, and what is over last.
func rank(stage season.Stage) int {
	switch stage {
	case season.Picking:
		return 0
	case season.Over:
		return 2
	}
	return 1
}

func firstDay(s season.Standing) calendar.Date {
	if s.FirstPick.P50.Known() {
		return s.FirstPick.P50
	}
	return calendar.On(9999, 1, 1)
}
