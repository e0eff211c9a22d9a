package web

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"

	"haulm/internal/app"
	"haulm/internal/crop"
	"haulm/internal/unit"
)

// The questions, as the form names them.
const (
	askWorth     = "worth"
	askWithout   = "without"
	askWith      = "with"
	askHours     = "hours"
	askShortlist = "shortlist"
	askYears     = "years"
)

// askForm is a question as it was filled in.
type askForm struct {
	Ask     string
	Without []string
	With    string
	M2      float64
	Minutes float64
	Most    int
	Seconds int
}

// What is offered for an answer's time and for more or fewer minutes a week.
var (
	askSeconds = []int{5, 10, 30, 60}
	askMinutes = []int{-120, -60, -30, 30, 60, 120}
)

const (
	usualAskSeconds = 10
	usualAskMinutes = 30
	usualShortlist  = 8
)

func newAskForm() askForm {
	return askForm{M2: 1, Minutes: usualAskMinutes, Most: usualShortlist, Seconds: usualAskSeconds}
}

// readAsk reads a question that was sent.
func readAsk(r *http.Request) (askForm, error) {
	f := newAskForm()
	if err := r.ParseForm(); err != nil {
		return f, invalid("the question cannot be read", "Ask it again on the page.", askHref)
	}
	f.Ask, f.Without, f.With = r.PostFormValue("ask"), r.PostForm["without"], r.PostFormValue("with")
	if !slices.Contains([]string{askWorth, askWithout, askWith, askHours, askShortlist, askYears}, f.Ask) {
		return f, invalid(fmt.Sprintf("there is no question called %q", f.Ask), "Choose one of the questions.", askHref)
	}
	if f.Ask == askWithout && len(f.Without) == 0 {
		return f, invalid("no dish was ticked", "Tick what the plan shall do without.", askHref+"#without")
	}
	if f.Ask == askWith && f.With == "" {
		return f, invalid("no crop was named", "Choose the crop that the plan shall have.", askHref+"#with")
	}
	for _, whole := range []struct {
		name      string
		into      *int
		low, high int
	}{{"most", &f.Most, 1, app.MostShortlisted}, {"seconds", &f.Seconds, 1, 300}} {
		text := r.PostFormValue(whole.name)
		if text == "" {
			continue
		}
		v, err := strconv.Atoi(text)
		if err != nil || v < whole.low || v > whole.high {
			return f, invalid(fmt.Sprintf("%q is not a number from %d to %d", text, whole.low, whole.high), "Write a whole number.", askHref+"#"+f.Ask)
		}
		*whole.into = v
	}
	for _, figure := range []struct {
		name, such string
		into       *float64
	}{{"m2", "2.5 for 2½ square metres", &f.M2}, {"minutes", "30 for half an hour a week", &f.Minutes}} {
		if text := r.PostFormValue(figure.name); text != "" {
			number := field{Value: text}
			v, ok := number.number()
			if !ok {
				return f, invalid(fmt.Sprintf("%q is not a number", text), "Write a number such as "+figure.such+".", askHref+"#"+f.Ask)
			}
			*figure.into = v
		}
	}
	return f, nil
}

const askHref = "/plan/questions"

// words is the question as a heading.
func (f *askForm) words() string {
	switch f.Ask {
	case askWorth:
		return "What is one more square metre worth?"
	case askWithout:
		var dishes []string
		for _, d := range f.Without {
			dishes = append(dishes, dishWords(d))
		}
		return "What does it cost to do without " + unit.Listed(dishes) + "?"
	case askWith:
		return fmt.Sprintf("What if the plan had %s on at least %s m²?", crop.InSentence(dishWords(f.With)), strconv.FormatFloat(f.M2, 'g', 4, 64))
	case askHours:
		return "What would " + minutesWords(f.Minutes) + " a week do?"
	case askShortlist:
		return fmt.Sprintf("Which dishes feed the table best, up to %d?", f.Most)
	}
	return "What does it cost to plan for the bad years?"
}

func minutesWords(minutes float64) string {
	m, side := minutes, "more"
	if m < 0 {
		m, side = -m, "less"
	}
	switch {
	case m == 30:
		return "half an hour " + side
	case m == 60:
		return "an hour " + side
	case m == float64(int(m/60))*60:
		return counted(int(m/60), "hour", "hours") + " " + side
	}
	return count(m) + " minutes " + side
}
