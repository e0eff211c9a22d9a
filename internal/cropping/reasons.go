package cropping

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"haulm/internal/grow"
	"haulm/internal/plan"
)

// reasons says in whole sentences why a planting is what it is: its odds, what
// starting sooner or later would cost, and when it feeds the table.
func (l *Lay) reasons(p plan.Planting) []string {
	c := &l.choices[p.Cand]
	out := []string{l.oddsSentence(c)}
	out = append(out, l.timingSentences(c)...)
	if s := l.feedsSentence(c, p.Strips); s != "" {
		out = append(out, s)
	}
	return out
}

func (l *Lay) oddsSentence(c *choice) string {
	odds := l.pickOdds(c.courses)
	s := fmt.Sprintf("Begun in the week of %s the weather alone takes it in %s of %d years", l.Monday(c.sowWeek).Format("2 January"), noneOr(c.lost), len(c.courses))
	if c.lost > 0 {
		s += " (" + lossWords(c.courses) + ")"
	}
	if odds.P10.Known() && odds.P90.Known() {
		s += fmt.Sprintf("; at a middling pace eight years of ten have its first picking between %s and %s", odds.P10.Format("2 January"), odds.P90.Format("2 January"))
	} else if odds.P50.Known() {
		s += fmt.Sprintf("; at a middling pace half the years have its first picking by %s", odds.P50.Format("2 January"))
	}
	return s + "."
}

func noneOr(n int) string {
	if n == 0 {
		return "none"
	}
	return strconv.Itoa(n)
}

// lossWords counts what took the lost years, worst first.
func lossWords(courses []grow.Course) string {
	counts := map[grow.MishapKind]int{}
	for _, course := range courses {
		if course.Failed() {
			counts[course.Mishap.Kind]++
		}
	}
	kinds := make([]grow.MishapKind, 0, len(counts))
	for kind := range counts {
		kinds = append(kinds, kind)
	}
	slices.SortFunc(kinds, func(a, b grow.MishapKind) int {
		return cmp.Or(cmp.Compare(counts[b], counts[a]), cmp.Compare(a, b))
	})
	words := make([]string, len(kinds))
	for i, kind := range kinds {
		word := string(kind)
		if word == "" {
			word = "not ready within the plan"
		}
		words[i] = fmt.Sprintf("%s %d", word, counts[kind])
	}
	return strings.Join(words, ", ")
}

// timingSentences compares the start with the same crop a few weeks sooner and
// later.
func (l *Lay) timingSentences(c *choice) []string {
	var out []string
	for _, shift := range []int{-timingWeeks, timingWeeks} {
		word := "later"
		if shift < 0 {
			word = "sooner"
		}
		lost, known := l.lostIfMoved(c, shift)
		if known && lost >= c.lost+len(c.courses)/10+1 {
			out = append(out, fmt.Sprintf("%d weeks %s, the weather would take it in %d of %d years.", timingWeeks, word, lost, len(c.courses)))
		}
	}
	return out
}

// timingWeeks is how far either way a start is compared.
const timingWeeks = 4

// lostIfMoved is how many years the same crop, begun some weeks from then,
// would have lost; not known before the plan begins.
func (l *Lay) lostIfMoved(c *choice, weeks int) (lost int, known bool) {
	if c.sowWeek+weeks < 0 {
		return 0, false
	}
	track, err := l.track(c.crop, c.class, c.route, c.kind)
	if err != nil {
		return 0, false
	}
	moved := *c
	moved.sowWeek += weeks
	l.growChoice(&moved, track)
	for y := range moved.courses {
		if moved.courses[y].RanOut {
			return 0, false
		}
	}
	return moved.lost, true
}

// feedsSentence says how much it brings, and when most of it.
func (l *Lay) feedsSentence(c *choice, strips int) string {
	_, portions := l.weighOdds(c.crop, c.numbers.Yield, strips)
	if portions.P50 < 1 {
		return ""
	}
	months := map[string]float64{}
	for _, y := range c.numbers.Yield {
		for i, g := range y.Grams {
			months[l.Monday(y.First+i).Format("January")] += float64(g)
		}
	}
	best := ""
	for month, grams := range months {
		if best == "" || grams > months[best] || grams == months[best] && month < best {
			best = month
		}
	}
	return fmt.Sprintf("At a middling yield it brings about %.0f portions in a middling year, most of them in %s.", portions.P50, best)
}
