package app

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"haulm/internal/calendar"
	"haulm/internal/cropping"
	"haulm/internal/diary"
	"haulm/internal/plan"
	"haulm/internal/season"
)

// RestQuestion asks for the rest of a plan to be planned again around what
// already stands.
type RestQuestion struct {
	Day        calendar.Date // None = today
	Seconds    float64       // how long to search; 0 = restSeconds
	Iterations int           // or so many moves
	Seed       int64
	Unnoted    Unnoted
	Progress   func(plan.Progress) // may be nil
}

// Unnoted is how plantings are taken whose day has passed without a line in
// the diary.
type Unnoted string

// Ways of taking what was not noted.
const (
	UnnotedAuto   Unnoted = ""       // as done where the diary says nothing of the plan at all, else as missed
	UnnotedDone   Unnoted = "done"   // begun and picked as planned
	UnnotedMissed Unnoted = "missed" // never begun
)

// restSeconds is the search's usual time: with laying out and telling, the
// answer comes within three seconds.
const restSeconds = 1.1

// Rest is a plan's rest planned again, beside the plan as it was. It is shown
// before anything is kept; Desk.AcceptRest keeps it.
type Rest struct {
	Day      calendar.Date
	Old, New *Planned // told over what stands on the day and what comes of it
	Assumed  bool     // what was not noted is taken as done as planned
	Missed   []cropping.Saved
	Changes  []cropping.Change
	Table    cropping.TableChange
}

// PlanRest plans the rest of the plan again: what is past is past, what stands
// stands and brings what the season now expects of it, and from the day on the
// old plan is improved where that is worth a change. The answer waits to be
// accepted; nothing else changes.
func (d *Desk) PlanRest(ctx context.Context, q RestQuestion) (*Rest, error) {
	s, err := d.restStart(q)
	if err != nil {
		return nil, err
	}
	sowing, err := cropping.SowingWeeks()
	if err != nil {
		return nil, err
	}
	if s.day >= s.saved.From.Add(7*sowing) {
		return nil, errSowingOver(s.saved)
	}
	lay, err := cropping.NewLay(s.question)
	if err != nil {
		return nil, err
	}
	kept, unfit := lay.Match(s.ahead)
	r := &Rest{Day: s.day, Assumed: s.assumed, Missed: s.missed}
	if r.Old, err = toldAs(lay, kept); err != nil {
		return nil, err
	}
	r.Old.Unfit = unfit
	if q.Seconds <= 0 && q.Iterations <= 0 {
		q.Seconds = restSeconds
	}
	result, err := searchRest(ctx, lay, kept, q)
	if err != nil {
		return nil, err
	}
	if r.New, err = toldAs(lay, result.Plantings); err != nil {
		return nil, err
	}
	r.New.Unfit = lay.Refused()
	r.New.Result.Bound, r.New.Result.Seed = result.Bound, q.Seed
	r.New.Result.Gap = plan.Gap(r.New.Result.Value, result.Bound)
	r.Changes = cropping.Changes(r.Old.Year, r.New.Year, s.overtaken(unfit))
	r.Table = cropping.TableChanged(r.Old.Year, r.New.Year, lay.Now())
	return r, d.propose(s, r)
}

// fillShare is the part of the search that leaves every planting of the old
// plan where it is and looks only for what can go beside them.
const fillShare = 0.4

// searchRest looks for what can go beside the old plan, then for a better plan
// altogether, each change worth what it asks, and goes as far towards them as that
// holds step by step. The bound is of the second.
func searchRest(ctx context.Context, lay *cropping.Lay, kept []plan.Planting, q RestQuestion) (plan.Result, error) {
	beside := *lay.Problem
	for _, p := range kept {
		if !slices.Contains(beside.Fixed, p) {
			if fixed := append(slices.Clone(beside.Fixed), p); len(plan.Validate(&beside, fixed)) == 0 {
				beside.Fixed = fixed
			}
		}
	}
	o := plan.Options{Seed: q.Seed, Seconds: fillShare * q.Seconds, Iterations: int(fillShare * float64(q.Iterations)),
		Keep: beside.Fixed, From: kept, ChangeCost: lay.ChangeCost()}
	filled, err := solve(ctx, &beside, o, q.Progress)
	if err != nil {
		return filled, err
	}
	o.Seconds, o.Iterations, o.Keep = q.Seconds-o.Seconds, q.Iterations-o.Iterations, filled.Plantings
	free, err := solve(ctx, lay.Problem, o, q.Progress)
	if err != nil {
		return free, err
	}
	free.Plantings = lay.Nearer(kept, filled.Plantings, free.Plantings)
	return free, nil
}

// toldAs tells plantings of a layout with their worth.
func toldAs(lay *cropping.Lay, plantings []plan.Planting) (*Planned, error) {
	worth, err := plan.Evaluate(lay.Problem, plantings)
	if err != nil {
		return nil, err
	}
	year, err := lay.Tell(plantings, worth.Total)
	if err != nil {
		return nil, err
	}
	return &Planned{Lay: lay, Result: plan.Result{Value: worth.Total, Plantings: plantings}, Year: year}, nil
}

// restStart is what the rest is planned from.
type restStart struct {
	day      calendar.Date
	base     []byte // text of the plan that it is the rest of
	saved    *savedPlan
	question cropping.Question
	begun    []cropping.Saved // of the plan, in its words, with what the season made of them
	ended    []cropping.Saved // of what stood before it
	ahead    []cropping.Saved
	missed   []cropping.Saved
	assumed  bool
	told     map[string]*cropping.Planting // the plan's plantings by season key
}

// errSowingOver is what there is to say when nothing is left to plan.
func errSowingOver(saved *savedPlan) error {
	return fmt.Errorf("the plan from %s has no sowing weeks left: make the next year's plan (haulm plan, or the Plan page)", saved.From.Format("2 January 2006"))
}

// restStart gathers the plan, the diary and the season's morning.
func (d *Desk) restStart(q RestQuestion) (*restStart, error) {
	planned, err := d.Planned()
	if err != nil {
		return nil, err
	}
	s := &restStart{day: d.orToday(q.Day)}
	d.mu.Lock()
	s.base, err = d.planText()
	d.mu.Unlock()
	if err != nil {
		return nil, err
	}
	if s.saved, err = readSaved(s.base); err != nil {
		return nil, err
	}
	g, err := d.Garden()
	if err != nil {
		return nil, err
	}
	w, err := d.Weather()
	if err != nil {
		return nil, err
	}
	habit, err := d.habit()
	if err != nil {
		return nil, err
	}
	s.question = cropping.Question{Garden: g, Catalogue: d.Catalogue, Climate: w.Climate, From: s.saved.From, Today: s.day, Habit: habit}
	if s.day <= s.saved.From { // nothing of it is past
		s.question.Ended, s.ahead = s.saved.Ended, s.saved.Plantings
		return s, nil
	}
	in, err := d.seasonInput(TodayQuestion{Day: s.day})
	if err != nil {
		return nil, err
	}
	return s, s.look(in, planned, q.Unnoted)
}

// look reads the season into the question: what stands, what is over, what was
// picked, and what of the plan is still ahead.
func (s *restStart) look(in season.Input, planned *Planned, unnoted Unnoted) error {
	r := newRestReader(s, &in, planned)
	s.assumed = unnoted == UnnotedDone || unnoted == UnnotedAuto && !diary.Kept(season.Known(in))
	if s.assumed {
		r.assume()
	}
	r.leaveUnbegun()
	standing, err := season.Regrow(in)
	if err != nil {
		return err
	}
	r.read(standing)
	s.told = r.told
	return nil
}

// overtaken are the plantings of the plan that cannot stand as they were.
func (s *restStart) overtaken(unfit []cropping.Unfit) []cropping.Overtaken {
	var out []cropping.Overtaken
	add := func(p cropping.Saved, why string) {
		if told := s.told[savedKey(p)]; told != nil {
			out = append(out, cropping.Overtaken{Planting: told, Why: why})
		}
	}
	for _, u := range unfit {
		add(u.Saved, u.Why)
	}
	for _, p := range s.missed {
		add(p, "its day has passed and the diary does not say that it was begun")
	}
	return out
}

// ErrNothingWaits is what accepting says where no change was shown.
var ErrNothingWaits = errors.New("no change to the plan waits to be accepted: ask for one with haulm plan --rest, or on the Plan page")
