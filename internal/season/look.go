package season

import (
	"errors"

	"haulm/internal/calendar"
)

// Look is one morning: what stands, what it will do, what is to be done. It
// fails where the record is too short for odds, or a planting is unsound.
func Look(in Input) (*State, error) {
	g, standing, err := growAll(&in)
	if err != nil {
		return nil, err
	}
	minutes := in.Minutes
	if minutes <= 0 {
		minutes = in.Garden.Household.MinutesPerWeek / rule("job.visits_per_week")
	}
	out := &State{
		Today: in.Today, Years: g.splice.years(), Estimated: in.Record.Estimated, Measured: g.splice.measured, Forecast: g.splice.forecast,
		Plantings: standing, Minutes: minutes, Learnt: in.Lessons,
	}
	if in.Forecast != nil && out.Forecast.Known() {
		out.Made = in.Forecast.Made
	}
	out.Hours = g.hours() != nil
	out.Water = g.waters(standing)
	out.Alarms = g.alarms(standing)
	out.Jobs = g.jobs(standing, out.Water, out.Alarms)
	fit(out.Jobs, in.Today, minutes)
	return out, nil
}

// growAll re-grows every planting.
func growAll(in *Input) (*grower, []Standing, error) {
	switch {
	case in.Garden == nil || in.Catalogue == nil:
		return nil, nil, errors.New("there is no garden to look at")
	case in.Record == nil || in.Record.Days() == 0:
		return nil, nil, errors.New("the garden has no weather record: give it one")
	case !in.Today.Known():
		return nil, nil, errors.New("the day is missing")
	}
	plantings := Plantings(*in)
	all := readDeeds(in, plantings)
	first := in.Today
	for i := range plantings {
		if d := all[i].weatherFrom(); d.Known() && !finished(&all[i], in.Today) {
			first = min(first, d)
		}
	}
	s, err := newSplice(in, first)
	if err != nil {
		return nil, nil, err
	}
	g := newGrower(in, s)
	var standing []Standing
	for i := range plantings {
		if finished(&all[i], in.Today) {
			continue
		}
		st, err := g.grow(plantings[i], all[i])
		if err != nil {
			return nil, nil, err
		}
		standing = append(standing, st)
	}
	return g, standing, nil
}

// finishedDays is how long a cleared planting is still told of.
const finishedDays = 30

func finished(d *deeds, today calendar.Date) bool {
	return d.cleared.Known() && today-d.cleared > finishedDays
}
