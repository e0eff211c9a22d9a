package trial

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"haulm/internal/grow"
)

// Width says of a set of dates whether their intervals are as wide as they
// should be. A date's distance is how far it lies from the model's middle, as a
// share of the interval's half-width on its own side: half of all dates lie
// nearer than 0.53 where an 80 % interval is right.
type Width struct {
	Name      string
	N, Inside int
	Middling  float64 // distance of the middling date
	Scatter   float64 // middling |ln(published days / ours)| over 0.6745: a standard deviation that no odd row drags
	Allowed   float64 // the middling interval's standard deviation of ln days
}

// rightDistance is the middling distance where an 80 % interval of a normal
// distribution is right: its quartile over its tenth.
const rightDistance = zQuarter / zTenth

// spacing is one date against its interval.
type spacing struct {
	distance, log, allowed float64
	inside                 bool
}

func spacingOf(days Days, observed int) (spacing, bool) {
	if days.Low == grow.Never || days.Mid == grow.Never || observed <= 0 || days.Low <= 0 {
		return spacing{}, false
	}
	s := spacing{inside: days.Low <= observed && observed <= days.High, log: math.Log(float64(observed) / float64(days.Mid))}
	side := days.Low
	if observed > days.Mid {
		side = days.High
	}
	half := math.Inf(1)
	if side != grow.Never {
		half = math.Max(0.5, math.Abs(float64(side-days.Mid)))
	}
	s.distance = math.Abs(float64(observed-days.Mid)) / half
	s.allowed = math.Log(float64(side)/float64(days.Mid)) / zTenth
	return s, true
}

// Widths are those of the groups that have enough dates of their own, and of
// all that have not together.
func Widths(outcomes []Outcome) []Width {
	groups := []struct {
		name string
		has  func(Outcome) bool
		up   bool
	}{
		{"emergence of potatoes", func(o Outcome) bool { return strings.HasPrefix(o.Subject.Crop.Key, "potato") }, true},
		{"first harvest, the trial's own weather", func(o Outcome) bool { return o.Weather.Kind != Estimated }, false},
		{"first harvest, estimated weather", func(o Outcome) bool { return o.Weather.Kind == Estimated }, false},
	}
	var list []Width
	for _, g := range groups {
		var spaced []spacing
		for _, o := range outcomes {
			if !g.has(o) {
				continue
			}
			if s, ok := o.spacing(g.up); ok {
				spaced = append(spaced, s)
			}
		}
		list = append(list, widthOf(g.name, spaced))
	}
	return list
}

// spacing of the row's emergence (up) or first harvest.
func (o Outcome) spacing(up bool) (spacing, bool) {
	if up {
		if _, ok := o.EmergenceError(); !ok {
			return spacing{}, false
		}
		return spacingOf(o.Up, o.observed(o.Row.Emerged))
	}
	if _, ok := o.HarvestError(); !ok {
		return spacing{}, false
	}
	return spacingOf(o.Ready, o.observed(o.Row.Harvest()))
}

func widthOf(name string, spaced []spacing) Width {
	w := Width{Name: name, N: len(spaced)}
	var distances, logs, allowed []float64
	for _, s := range spaced {
		distances, logs, allowed = append(distances, s.distance), append(logs, math.Abs(s.log)), append(allowed, math.Abs(s.allowed))
		if s.inside {
			w.Inside++
		}
	}
	for _, values := range [][]float64{distances, logs, allowed} {
		slices.Sort(values)
	}
	w.Middling, w.Scatter, w.Allowed = median(distances), median(logs)/zQuarter, median(allowed)
	return w
}

func writeWidths(b *strings.Builder, widths []Width) {
	fmt.Fprintf(b, "\n## How wide the intervals are\n\nA date's distance is how far it lies from our middle, in half-widths of its interval on that side: half of all dates should lie nearer than %.2f. The scatter is that of the dates about our middle, the allowed one that of our intervals, as standard deviations of the logarithm of days. Groups with few dates stand together.\n\n| dates | n | inside | middling distance | scatter | allowed |\n|---|---:|---:|---:|---:|---:|\n", rightDistance)
	for _, w := range widths {
		if w.N > 0 {
			fmt.Fprintf(b, "| %s | %d | %d | %.2f | %.0f %% | %.0f %% |\n", w.Name, w.N, w.Inside, w.Middling, 100*w.Scatter, 100*w.Allowed)
		}
	}
}
