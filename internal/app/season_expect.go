package app

import (
	"haulm/internal/season"
)

// expectations are what the plantings of a plan were last worked out to do.
type expectations struct {
	of  *Planned
	all []season.Expected
}

// Expected is what each planting of the plan is to do: over the weather years
// and over what the growth model leaves in doubt, where the plan itself goes by
// the weather alone. It goes by what the diary had taught when first asked, as
// the telling of the plan does.
func (d *Desk) Expected(planned *Planned) ([]season.Expected, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.expected.of == planned && planned != nil {
		return d.expected.all, nil
	}
	if d.garden == nil {
		return nil, ErrNoGarden
	}
	w, err := d.weatherLocked()
	if err != nil {
		return nil, err
	}
	lessons, err := d.lessonsLocked(d.Today())
	if err != nil {
		return nil, err
	}
	all, err := w.expected(season.Input{Garden: d.garden, Catalogue: d.Catalogue, Lessons: lessons}, planned)
	if err != nil {
		return nil, err
	}
	d.expected = expectations{planned, all}
	return all, nil
}

// expected works out what the plantings of a plan are to do.
func (w *Weather) expected(in season.Input, planned *Planned) ([]season.Expected, error) {
	all := make([]season.Expected, len(planned.Year.Plantings))
	for i := range all {
		p := &planned.Year.Plantings[i]
		of := fromPlan(in.Garden, p)
		of.Stands = p.Stands
		var err error
		if all[i], err = season.Expect(in, w.Climate, of, p.Courses); err != nil {
			return nil, err
		}
	}
	return all, nil
}
