package app

import (
	"context"
	"fmt"
	"math"

	"haulm/internal/cropping"
	"haulm/internal/plan"
	"haulm/internal/unit"
)

// ShortlistAnswer tells which dishes feed the table best, where only so many are
// grown. Line k is the list of k; line 0 is what stands and lies in store already.
type ShortlistAnswer struct {
	Lines []ShortLine `json:"lines"`
	Words []string    `json:"words"`
}

// ShortLine is the best list found of so many dishes.
type ShortLine struct {
	Dishes []string `json:"dishes"`
	Joined []string `json:"joined"` // against the list of one fewer
	Left   []string `json:"left"`   // that were on the list of one fewer
	Value  float64  `json:"value"`  // worth of the best plan found that plants nothing else
	Adds   float64  `json:"adds"`   // against the list of one fewer
	Bound  float64  `json:"bound"`  // no plan of these dishes is worth more
	// Others is the most that any other list as long can be worth, proven; 0 where
	// there is no other.
	Others   float64       `json:"others"`
	Proven   bool          `json:"proven"` // no other list as long is better than what was found with this
	Portions cropping.Odds `json:"portions"`
}

// AskShortlist finds the lists of up to most dishes. saw is handed the answer as it
// grows; it may be nil.
func (d *Desk) AskShortlist(ctx context.Context, most int, q AskQuestion, saw func(*ShortlistAnswer)) (*ShortlistAnswer, error) {
	if most < 1 || most > MostShortlisted {
		return nil, fmt.Errorf("a shortlist of %d: ask for 1 to %d dishes", most, MostShortlisted)
	}
	a, err := d.asking(q)
	if err != nil {
		return nil, err
	}
	o := a.options()
	o.Keep = a.kept
	var tell func([]plan.Choice)
	if saw != nil {
		tell = func(list []plan.Choice) {
			if answer, err := a.shortlist(list); err == nil { // what cannot be told is told at the end
				saw(answer)
			}
		}
	}
	return a.shortlist(plan.Shortlist(ctx, a.lay.Problem, most, o, tell))
}

// MostShortlisted is the longest shortlist that can be asked for.
const MostShortlisted = 15

func (a *asking) shortlist(list []plan.Choice) (*ShortlistAnswer, error) {
	answer := &ShortlistAnswer{}
	names := dishNames(a.lay)
	named := func(crops []int) []string {
		out := []string{}
		for _, c := range crops {
			out = append(out, names[c])
		}
		return out
	}
	for k, c := range list {
		figures, _, err := a.figures(a.lay.Problem, c.Result)
		if err != nil {
			return nil, err
		}
		line := ShortLine{
			Dishes: named(c.Crops), Joined: named(c.Joined), Left: named(c.Left), Value: c.Result.Value, Bound: c.Result.Bound,
			Proven: c.Proven(), Portions: figures.Portions,
		}
		if !math.IsInf(c.Others, 0) {
			line.Others = c.Others
		}
		if k > 0 {
			line.Adds = line.Value - answer.Lines[k-1].Value
		}
		answer.Lines = append(answer.Lines, line)
	}
	answer.Words = answer.words()
	return answer, nil
}

// ProofWords tells how sure it is that a list is the best of its length.
func (l *ShortLine) ProofWords() string {
	switch {
	case len(l.Dishes) == 0:
		return ""
	case l.Others == 0 && l.Proven:
		return "there is no other list as long"
	case l.Proven:
		return fmt.Sprintf("proven: no other list of %d can beat it", len(l.Dishes))
	case l.Others == 0:
		return "nothing is proven yet"
	}
	return fmt.Sprintf("no other list of %d can beat it by more than %.1f %%", len(l.Dishes), 100*(l.Others/l.Value-1))
}

func (s *ShortlistAnswer) words() []string {
	var words []string
	if len(s.Lines) > 0 {
		words = append(words, fmt.Sprintf("What stands and lies in store is worth %s first portions with nothing more sown.", count(s.Lines[0].Value)))
	}
	nested, last := true, ""
	for k := range s.Lines {
		l := &s.Lines[k]
		if len(l.Left) > 0 {
			nested, last = false, fmt.Sprintf("the list of %d has %s, that of %d has not", k-1, unit.Listed(l.Left), k)
		}
	}
	if nested && len(s.Lines) > 2 {
		words = append(words, "Each list found holds the one before it. That need not be so: the lists are looked for one by one.")
	} else if !nested {
		words = append(words, fmt.Sprintf("The best lists do not lie within each other: %s. Two may together do better what one did alone.", last))
	}
	return words
}
