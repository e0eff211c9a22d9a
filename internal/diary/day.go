package diary

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"haulm/internal/calendar"
)

// soonDays is how far ahead a day without a year is taken for a slip rather
// than for the year before.
const soonDays = 60

// findDay takes the words for a day out of the line; Today where there are
// none.
func (r *reading) findDay() error {
	for i := range r.words {
		day, n, err := r.dayAt(i)
		if err != nil {
			return err
		}
		if n == 0 {
			continue
		}
		r.use(i, n)
		if r.dayGiven {
			return fmt.Errorf("two days are given, %s and %s: write one line for each", r.entry.Day.Format("2 January"), day.Format("2 January"))
		}
		r.entry.Day, r.dayGiven = day, true
	}
	return nil
}

// dayAt reads a day that begins at word i, and how many words it takes; 0 for
// none.
func (r *reading) dayAt(i int) (calendar.Date, int, error) {
	if r.words[i].used {
		return calendar.None, 0, nil
	}
	today, word, next := r.context.Today, r.words[i].plain, r.word(i+1)
	switch {
	case word == "today", word == "tonight":
		return today, 1, nil
	case word == "this" && (next == "morning" || next == "evening" || next == "afternoon"):
		return today, 2, nil
	case word == "yesterday":
		return today.Add(-1), 1, nil
	case word == "tomorrow": // Check says that it has not come yet
		return today.Add(1), 1, nil
	case word == "last" && next == "night":
		return today, 2, nil // the low of the night that ended this morning
	case next == "days" && r.word(i+2) == "ago":
		if n, err := strconv.Atoi(word); err == nil && n >= 0 && n < 3660 {
			return today.Add(-n), 3, nil
		}
	}
	if day, ok := weekdays[word]; ok {
		back := (int(today.Weekday()) - int(day) + 7) % 7
		return today.Add(-back), 1, nil
	}
	if isoLike(word) {
		day, err := calendar.Parse(word)
		if err != nil {
			return calendar.None, 0, fmt.Errorf("%q is no day of the calendar; write it as 2027-05-12 or 12 May", r.words[i].typed)
		}
		return day, 1, nil
	}
	return r.dayOfMonth(i)
}

func isoLike(word string) bool {
	return len(word) == 10 && word[4] == '-' && word[7] == '-' && word[0] >= '0' && word[0] <= '9'
}

// dayOfMonth reads "12 May", "12th of May 2027" and "May 12".
func (r *reading) dayOfMonth(i int) (calendar.Date, int, error) {
	number, numbered := ordinal(r.word(i))
	month, ok := months[r.word(i)]
	n := 1
	if ok {
		number, numbered = ordinal(r.word(i + 1))
		n = 2
	} else if numbered {
		if r.word(i+1) == "of" {
			n++
		}
		month, ok = months[r.word(i+n)]
		n++
	}
	if !ok || !numbered {
		return calendar.None, 0, nil
	}
	year, given := r.context.Today.Year(), false
	if y, err := strconv.Atoi(r.word(i + n)); err == nil && y >= 1900 && y <= 2200 {
		year, given = y, true
		n++
	}
	day := calendar.On(year, month, number)
	if day.Month() != month {
		return calendar.None, 0, fmt.Errorf("%q is no day: %s %d has no day %d; correct it, such as 12 %s", r.typed(i, n), month, year, number, month)
	}
	if !given && day > r.context.Today.Add(soonDays) {
		day = calendar.On(year-1, month, number)
	}
	return day, n, nil
}

// typed is some words of the line as they were typed.
func (r *reading) typed(i, n int) string {
	var words []string
	for _, t := range r.words[i:min(i+n, len(r.words))] {
		words = append(words, t.typed)
	}
	return strings.Join(words, " ")
}

// ordinal reads 12 or 12th, in two figures at most: 32 beside a month is a slip
// to be told, 2027 is a year.
func ordinal(word string) (int, bool) {
	for _, end := range []string{"st", "nd", "rd", "th"} {
		word = strings.TrimSuffix(word, end)
	}
	n, err := strconv.Atoi(word)
	return n, err == nil && n >= 0 && len(word) <= 2
}

var weekdays = map[string]time.Weekday{
	"monday": 1, "tuesday": 2, "wednesday": 3, "thursday": 4, "friday": 5, "saturday": 6, "sunday": 0,
	"mon": 1, "tue": 2, "tues": 2, "wed": 3, "thu": 4, "thurs": 4, "fri": 5, "sat": 6,
}

var months = map[string]time.Month{
	"january": 1, "february": 2, "march": 3, "april": 4, "may": 5, "june": 6, "july": 7, "august": 8, "september": 9, "october": 10, "november": 11, "december": 12,
	"jan": 1, "feb": 2, "mar": 3, "apr": 4, "jun": 6, "jul": 7, "aug": 8, "sep": 9, "sept": 9, "oct": 10, "nov": 11, "dec": 12,
}
