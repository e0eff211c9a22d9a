package web

import (
	"haulm/internal/calendar"
	"haulm/internal/diary"
	"haulm/internal/season"
	"haulm/internal/unit"
)

// jobLine is one thing to do, with the buttons that write it down.
type jobLine struct {
	No              int // on the page, from 1
	Kept            bool
	ID, Key         string
	Title, Where    string
	Amount, Minutes string
	Why, Cost       string
	Until           string
	Cautions        []string
	CareAs          int    // the job above that tells the same cautions; 0 = they are told here
	Asks            string // what the amount is of, "" where none is asked
	Units           []choice
	Href            string // where it is done, for a job that has no one button
	ButtonName      string // said to whoever does not see which job it stands by
}

func newJobLine(j *season.Job, m *season.State, u unit.System) jobLine {
	line := jobLine{
		ID: j.ID, Key: j.Key, Title: capital(j.Title), Where: j.Where, Amount: sentence(capital(j.Amount)), Minutes: minuteWords(j.Minutes),
		Why: capital(sentence(j.Why)), Cost: capital(sentence(j.CostSays)), Cautions: sentences(j.Cautions),
		Until: untilWords(j, m.Today), ButtonName: j.Title + ", " + j.Where,
	}
	if j.TicksOff == diary.Picked {
		line.Asks, line.Units = "How much", pickUnits(u)
	}
	return line
}

// pickUnits are what a picking is weighed or counted in.
func pickUnits(u unit.System) []choice {
	units := []choice{{string(diary.Gram), "g", true}, {string(diary.Kilogram), "kg", false}}
	if u == unit.Imperial {
		units = []choice{{string(diary.Pound), "lb", true}, {string(diary.Ounce), "oz", false}}
	}
	return append(units, choice{string(diary.Count), "pieces", false}, choice{string(diary.Basin), "basins", false})
}

func untilWords(j *season.Job, today calendar.Date) string {
	switch wait := int(j.Until - today); {
	case wait <= 0:
		return "Today."
	case wait == 1:
		return "Can wait until tomorrow."
	case wait < 7:
		return "Can wait until " + j.Until.Format("Monday") + "."
	}
	return "Can wait until " + dayMonth(j.Until) + "."
}

// comingDay is one day's jobs ahead.
type comingDay struct {
	due  calendar.Date
	Day  string
	Jobs []string
}

func coming(days []comingDay, j *season.Job) []comingDay {
	words := capital(j.Title) + ", " + j.Where
	for i := range days {
		if days[i].due == j.Due {
			days[i].Jobs = append(days[i].Jobs, words)
			return days
		}
	}
	return append(days, comingDay{j.Due, j.Due.Format("Monday 2 January"), []string{words}})
}

// alarmLine is one threat, with its rule and what to do.
type alarmLine struct {
	ID, Heading, When     string
	Says, Do              string
	Rule, Numbers, Source string
	Weak                  bool
	Cautions              []string
}

func newAlarmLine(a *season.Alarm, today calendar.Date) alarmLine {
	return alarmLine{
		ID: a.ID, Heading: capital(string(a.Kind)) + ": " + a.Crop + ", " + a.Where, When: whenWords(a.Day, today),
		Says: capital(sentence(a.Says)), Do: capital(sentence(a.Do)), Rule: capital(sentence(a.Rule)),
		Numbers: capital(sentence(a.Numbers)), Source: a.Source, Weak: a.Weak, Cautions: sentences(a.Cautions),
	}
}

func whenWords(day, today calendar.Date) string {
	switch int(day - today) {
	case 0:
		return "today"
	case 1:
		return "tomorrow"
	case -1:
		return "yesterday"
	}
	return day.Format("Monday 2 January")
}

// sentences write each as a sentence of its own.
func sentences(texts []string) []string {
	var out []string
	for _, text := range texts {
		out = append(out, capital(sentence(text)))
	}
	return out
}
