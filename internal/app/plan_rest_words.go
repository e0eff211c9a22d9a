package app

import (
	"fmt"
	"io"
	"math"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/cropping"
)

// RestLine is one change to a plan in words: "moved", "Chard", "Bed 2, from 4
// May to 18 May".
type RestLine struct {
	Kind  cropping.ChangeKind `json:"kind"`
	Crop  string              `json:"crop"`
	Words string              `json:"words"`
	Why   string              `json:"why,omitempty"`
}

// Lines puts the changes into words; stretch says where along its place a
// planting stands.
func (r *Rest) Lines(stretch func(*cropping.Planting) string) []RestLine {
	out := make([]RestLine, 0, len(r.Changes))
	for _, c := range r.Changes {
		line := RestLine{Kind: c.Kind, Why: c.Why}
		switch c.Kind {
		case cropping.New:
			line.Crop = KindOf(c.After.Class, c.After.Crop.Name)
			line.Words = fmt.Sprintf("%s, %s: %s; about %.0f portions", c.After.Place, stretch(c.After), begins(c.After), c.After.Portions.P50)
		case cropping.Dropped:
			line.Crop = KindOf(c.Before.Class, c.Before.Crop.Name)
			was := begins(c.Before)
			if !strings.HasPrefix(was, c.Before.Route.Name) {
				was = "to " + was
			}
			line.Words = fmt.Sprintf("%s, %s: was %s", c.Before.Place, stretch(c.Before), was)
		case cropping.Moved:
			line.Crop = KindOf(c.After.Class, c.After.Crop.Name)
			line.Words = movedWords(c.Before, c.After, stretch)
		}
		out = append(out, line)
	}
	return out
}

// KindOf names a crop in a sentence, with its kind where that is not the middling.
func KindOf(class, name string) string {
	if class == "early" || class == "late" {
		return class + " " + crop.InSentence(name)
	}
	return crop.InSentence(name)
}

func movedWords(was, is *cropping.Planting, stretch func(*cropping.Planting) string) string {
	var words []string
	if was.Place != is.Place {
		words = append(words, fmt.Sprintf("from %s to %s, %s", was.Place, is.Place, stretch(is)))
	} else if was.FromCM != is.FromCM || was.ToCM != is.ToCM {
		words = append(words, fmt.Sprintf("%s, %s instead of %s", is.Place, stretch(is), stretch(was)))
	} else {
		words = append(words, is.Place)
	}
	if was.Start != is.Start {
		words = append(words, fmt.Sprintf("from %s to %s", was.Start.Format("2 January"), is.Start.Format("2 January")))
	}
	if was.Class != is.Class {
		words = append(words, "the "+is.Class+" kind instead of the "+was.Class)
	}
	if was.Route != is.Route {
		words = append(words, is.Route.Name+" instead of "+was.Route.Name)
	}
	return strings.Join(words, ", ")
}

// TableWords says what the table gains by the change.
func (r *Rest) TableWords() string {
	t := r.Table
	var words []string
	if math.Abs(t.Portions.P50) < 0.5 {
		words = append(words, "The table gets as much as before in a middling year")
	} else {
		words = append(words, fmt.Sprintf("The table gets %s portions in a middling year, on the %.0f that were to come", signed(t.Portions.P50), t.Before.P50))
	}
	if math.Round(t.Portions.P10) != math.Round(t.Portions.P90) {
		words = append(words, fmt.Sprintf("%s to %s in eight years of ten", signed(t.Portions.P10), signed(t.Portions.P90)))
	}
	for _, s := range t.Closed {
		words = append(words, gapWords(s)+" closed")
	}
	for _, s := range t.Opened {
		words = append(words, gapWords(s)+" opened")
	}
	return strings.Join(words, "; ") + "."
}

func signed(x float64) string {
	if x = math.Round(x); x > 0 {
		return fmt.Sprintf("+%.0f", x)
	} else if x < 0 {
		return fmt.Sprintf("−%.0f", -x)
	}
	return "0"
}

// gapWords names a run of weeks: "the gap in late August".
func gapWords(s cropping.Span) string {
	from, to := thirdOf(s.From), thirdOf(s.From.Add(7*s.Weeks-1))
	if from == to {
		return "the gap in " + from
	}
	fromPart, fromMonth, _ := strings.Cut(from, " ")
	if _, toMonth, _ := strings.Cut(to, " "); fromMonth == toMonth {
		return "the gap in " + fromPart + " and " + to
	}
	return "the gap from " + from + " to " + to
}

// thirdOf is the part of the month in which a day lies.
func thirdOf(d calendar.Date) string {
	_, month, day := d.Civil()
	part := "late"
	switch {
	case day <= 10:
		part = "early"
	case day <= 20:
		part = "mid"
	}
	return part + " " + month.String()
}

// BasisWords says how what was not noted is taken.
func (r *Rest) BasisWords() string {
	if r.Assumed {
		return "The diary does not say what was begun: what the plan had begun by now is taken as done as planned."
	}
	return ""
}

// WriteRest tells a plan's rest in plain text.
func WriteRest(w io.Writer, r *Rest) {
	fmt.Fprintf(w, "The rest of the plan from %s\n", r.Day.Format("2 January 2006"))
	if words := r.BasisWords(); words != "" {
		fmt.Fprintln(w, words)
	}
	if len(r.Changes) == 0 {
		fmt.Fprintln(w, "Nothing is worth changing: the plan goes on as it is.")
		return
	}
	for _, line := range r.Lines(stretch) {
		fmt.Fprintf(w, "  %-8s %s, %s", string(line.Kind)+":", line.Crop, line.Words)
		if line.Why != "" {
			fmt.Fprintf(w, " (%s)", line.Why)
		}
		fmt.Fprintln(w)
	}
	fmt.Fprintln(w, r.TableWords())
	for _, u := range r.New.Unfit {
		fmt.Fprintf(w, "You keep %s in %s, but it does not fit: %s.\n", crop.InSentence(u.Name), u.Place, u.Why)
	}
}

// RestAnswer is a plan's rest as JSON.
type RestAnswer struct {
	Day     calendar.Date `json:"day"`
	Assumed bool          `json:"unnoted_taken_as_done"`
	Changes []RestLine    `json:"changes"`
	Table   string        `json:"table"`
	More    cropping.Odds `json:"portions_more"`
	Value   float64       `json:"value"`
	Before  float64       `json:"value_before"`
}

// Answer puts a rest into its JSON form.
func (r *Rest) Answer() RestAnswer {
	return RestAnswer{r.Day, r.Assumed, r.Lines(stretch), r.TableWords(), r.Table.Portions, r.New.Result.Value, r.Old.Result.Value}
}
