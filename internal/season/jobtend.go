package season

import (
	_ "embed"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"haulm/internal/calendar"
	"haulm/internal/diary"
	"haulm/internal/garden"
	"haulm/internal/graded"
)

//go:embed data/jobs.csv
var jobsCSV string

// tending is one row of data/jobs.csv: work that comes with a stage of the
// crop.
type tending struct {
	job, routes, anchor, title, why string
	crops                           []string
	from, until                     float64
	everyD                          int
	minM2, minPlant, loss           float64
	round                           int // the n-th row of this job for a crop, from 1
}

var tendings = sync.OnceValue(func() []tending {
	var out []tending
	seen := map[string]int{}
	for _, row := range graded.MustRows("season: jobs", jobsCSV) {
		is := row.Cells
		t := tending{job: is[0], crops: strings.Split(is[1], "|"), routes: is[2], anchor: is[3], title: is[10], why: is[11]}
		var every float64
		row.Numbers(4, &t.from, &t.until, &every, &t.minM2, &t.minPlant, &t.loss)
		t.everyD = int(every)
		seen[t.job+is[1]]++
		t.round = seen[t.job+is[1]]
		out = append(out, t)
	}
	return out
})

// kindOf is the diary's word for having done a job.
func (t *tending) kindOf() diary.Kind {
	return map[string]diary.Kind{
		"prick out": diary.PrickedOut, "pot on": diary.PottedOn, "harden off": diary.HardenedOff, "thin": diary.Thinned, "earth up": diary.EarthedUp,
		"support": diary.Supported, "pinch out": diary.PinchedOut, "mulch": diary.Mulched, "weed": diary.Weeded, "feed": diary.Fed,
	}[t.job]
}

// applies says whether the work belongs to a planting as it stands.
func (t *tending) applies(s *Standing) bool {
	if t.crops[0] != "*" && !slices.Contains(t.crops, s.Crop.Key) {
		return false
	}
	pots := s.Place.Kind == garden.Pots
	switch t.routes {
	case "raised":
		if !s.Route.Raised {
			return false
		}
	case "bed":
		if pots {
			return false
		}
	case "pots":
		if !pots {
			return false
		}
	case "*":
	default:
		if s.Route.Key != t.routes {
			return false
		}
	}
	if t.anchor == "share" {
		return s.inGround()
	}
	return s.Stage == Raising
}

// tend adds the work that comes with the stage of the crop.
func (j *jobber) tend(s *Standing) {
	for i := range tendings() {
		t := &tendings()[i]
		if !t.applies(s) || s.deeds.times[t.kindOf()] >= t.round && t.everyD == 0 {
			continue
		}
		due, until, ok := j.window(s, t)
		if !ok || until < j.g.in.Today {
			continue
		}
		cost := t.loss * portions(s) * share(t)
		if cost < leastTendPortions {
			continue
		}
		j.add(s, Job{
			Kind: t.job, ID: tendID(s, t), TicksOff: t.kindOf(), Since: due, Due: max(due, j.g.in.Today), Until: until,
			Title: j.fill(t.title, s), Why: t.why, Minutes: t.minM2*s.AreaM2 + t.minPlant*float64(s.Plants),
			Cost: cost, Cautions: actCautions(s, t.job),
		})
	}
}

// leastTendPortions is what tending must be worth to be told.
const leastTendPortions = 0.1

// share is the part of a repeated work's whole loss that one time costs.
func share(t *tending) float64 {
	if t.everyD == 0 {
		return 1
	}
	const times = 5
	return 1.0 / times
}

func tendID(s *Standing, t *tending) string {
	id := fmt.Sprintf("%s %d %s", t.job, t.round, s.Key)
	if t.everyD > 0 {
		id = fmt.Sprintf("%s %d %s", t.job, 1+s.deeds.times[t.kindOf()], s.Key)
	}
	return id
}

func (j *jobber) fill(title string, s *Standing) string {
	return strings.NewReplacer("{crop}", s.name(), "{spacing}", fmt.Sprintf("%g", math.Max(1, s.Route.InRowCM))).Replace(title)
}

// window is from when until when the work is to be done.
func (j *jobber) window(s *Standing, t *tending) (from, until calendar.Date, ok bool) {
	switch t.anchor {
	case "sown":
		return s.Begun.Add(int(t.from)), s.Begun.Add(int(t.until)), true
	case "set_out":
		if !s.Out.Known() {
			return 0, 0, false
		}
		return s.Out.Add(int(t.from)), s.Out.Add(int(t.until)), true
	}
	from, okA := j.dayOfShare(s, t.from)
	until, okB := j.dayOfShare(s, t.until)
	if !okA || !okB {
		return 0, 0, false
	}
	if t.everyD > 0 {
		if last, done := s.deeds.last[t.kindOf()]; done {
			from = max(from, last.Add(t.everyD))
		}
		if from > until {
			return 0, 0, false
		}
		until = min(until, max(from, j.g.in.Today).Add(t.everyD))
	}
	return from, until, true
}

// dayOfShare is the day by which a share of the way to the first picking is
// done in the middling year; beyond 1 it runs on to the last picking.
func (j *jobber) dayOfShare(s *Standing, share float64) (calendar.Date, bool) {
	if s.middle < 0 {
		return 0, false
	}
	c := &s.courses[s.middle].course
	from, first := grewFrom(c), c.FirstPick
	if !from.Known() || !first.Known() {
		return 0, false
	}
	if share > 1 {
		last := c.LastPick
		if !last.Known() {
			last = first
		}
		return first.Add(int((share - 1) * float64(last-first))), true
	}
	low, high := 0, int(first-from)
	for low < high { // share() rises with the day
		middle := (low + high) / 2
		if j.g.share(s, from.Add(middle)) < share {
			low = middle + 1
		} else {
			high = middle
		}
	}
	return from.Add(low), true
}
