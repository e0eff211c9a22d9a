package app

import (
	"cmp"
	"context"
	"errors"
	"fmt"

	"haulm/internal/calendar"
	"haulm/internal/cropping"
	"haulm/internal/diary"
	"haulm/internal/forecast"
	"haulm/internal/garden"
	"haulm/internal/ground"
	"haulm/internal/grow"
	"haulm/internal/season"
	"haulm/internal/weather"
)

// TodayQuestion asks for one morning.
type TodayQuestion struct {
	Day       calendar.Date      // None = today
	Minutes   float64            // 0 = the household's week, shared out over its visits
	AheadDays int                // how far ahead jobs are told; 0 = two weeks
	Forecast  *forecast.Forecast // nil = the one that was fetched last, where it is fresh
	Hourly    *weather.Hourly    // measured hours, for the rules of disease; nil = those kept with the garden
}

// Morning looks at the garden as it stands today: forecast, jobs, water and
// alarms. Without a plan it speaks of what stands and what the diary began.
func (d *Desk) Morning(q TodayQuestion) (*season.State, error) {
	in, err := d.seasonInput(q)
	if err != nil {
		return nil, err
	}
	return season.Look(in)
}

// seasonInput gathers what a morning goes by.
func (d *Desk) seasonInput(q TodayQuestion) (season.Input, error) {
	g, err := d.Garden()
	if err != nil {
		return season.Input{}, err
	}
	w, err := d.Weather()
	if err != nil {
		return season.Input{}, err
	}
	plantings, err := d.seasonPlantings(g)
	if err != nil {
		return season.Input{}, err
	}
	entries, err := d.diaryEntries()
	if err != nil {
		return season.Input{}, err
	}
	day := d.orToday(q.Day)
	in := season.Input{
		Garden: g, Catalogue: d.Catalogue, Plantings: plantings, Diary: entries, Record: w.Mended, Forecast: q.Forecast, Hourly: q.Hourly,
		Today: day, Minutes: q.Minutes, AheadDays: q.AheadDays,
	}
	if _, err := d.adopt(&in); err != nil {
		return season.Input{}, err
	}
	if kept := d.KeptForecast(); in.Forecast == nil && kept != nil {
		in.Forecast = kept.Forecast
	}
	if in.Forecast != nil {
		own := *in.Forecast
		own.Made = own.Made.In(d.now().Location())
		in.Forecast = &own
	}
	if in.Hourly == nil {
		if in.Hourly, err = d.keptHours(g); err != nil {
			return season.Input{}, err
		}
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	in.Lessons, err = d.lessonsLocked(day)
	return in, err
}

func (d *Desk) diaryEntries() ([]diary.Entry, error) {
	if d.file == nil {
		return nil, nil
	}
	lines, err := d.file.Diary(context.Background())
	if err != nil {
		return nil, err
	}
	out := make([]diary.Entry, len(lines))
	for i := range lines {
		out[i] = lines[i].Entry
	}
	return out, nil
}

// seasonPlantings are the plan's plantings, where there is a plan, and those
// that the garden says stand.
func (d *Desk) seasonPlantings(g *garden.Garden) ([]season.Planting, error) {
	planned, err := d.Planned()
	if err != nil && !errors.Is(err, ErrNoPlan) {
		return nil, err
	}
	return d.plantingsOf(g, planned)
}

// plantingsOf are those of a plan, nil for none, and those that the garden says
// stand.
func (d *Desk) plantingsOf(g *garden.Garden, planned *Planned) ([]season.Planting, error) {
	var out []season.Planting
	hand := season.Rules().Value("job.unplanned_share")
	if planned != nil {
		for i := range planned.Year.Plantings {
			p := &planned.Year.Plantings[i]
			if p.Stands {
				continue
			}
			of := fromPlan(g, p)
			if of.AreaM2 > 0 && of.ScaleM2 > 0 {
				hand = of.ScaleM2 / of.AreaM2
			}
			out = append(out, of)
		}
	}
	for _, s := range g.Standing {
		p, err := d.fromStanding(g, s, hand)
		if err != nil {
			return nil, err
		}
		out = append(out, p)
	}
	return out, nil
}

// fromPlan puts a planting of the plan into the season's terms.
func fromPlan(g *garden.Garden, p *cropping.Planting) season.Planting {
	place, _ := g.Place(p.Place)
	out := season.Planting{
		Key: season.Key(p.Crop.Key, p.Route.Key, p.Place, p.FromCM, p.Start), Crop: p.Crop, Class: cmp.Or(p.Class, "mid"), Route: p.Route, Place: place,
		FromCM: p.FromCM, ToCM: p.ToCM, EndCM: p.EndCM, AreaM2: ground.StretchM2(place, p.FromCM, p.ToCM, p.Layout.Plants, p.Route.PlantsPerM2), Plants: p.Layout.Plants, Seeds: p.Seeds,
		Start: p.Start, SetOut: p.SetOut, Planned: season.Odds(p.FirstPick), Clear: p.Clear,
	}
	var yields []float64
	for i := range p.Courses {
		yields = append(yields, p.Courses[i].KgPerM2)
	}
	if middle := grow.Quantile(yields, 0.5); middle > 0 {
		out.ScaleM2 = p.Kg.P50 / middle
	}
	return out
}

// fromStanding puts what stands already into the season's terms.
func (d *Desk) fromStanding(g *garden.Garden, s garden.Standing, hand float64) (season.Planting, error) {
	cr, err := d.Catalogue.Find(s.Crop)
	if err != nil {
		return season.Planting{}, fmt.Errorf("standing in %s: %w", s.Place, err)
	}
	route, err := cr.Route(s.Route)
	if err != nil {
		return season.Planting{}, fmt.Errorf("standing in %s: %w", s.Place, err)
	}
	place, ok := g.Place(s.Place)
	if !ok {
		return season.Planting{}, fmt.Errorf("standing %s: no place is called %q", cr.Name, s.Place)
	}
	layout := ground.Plants(place, ground.SpacingOf(route), float64(s.ToCM-s.FromCM))
	area := ground.StretchM2(place, s.FromCM, s.ToCM, layout.Plants, route.PlantsPerM2)
	none := season.Odds{P10: calendar.None, P50: calendar.None, P90: calendar.None}
	return season.Planting{
		Key: season.Key(cr.Key, route.Key, s.Place, s.FromCM, s.Started), Crop: cr, Class: cmp.Or(s.Class, "mid"), Route: route, Place: place,
		FromCM: s.FromCM, ToCM: s.ToCM, AreaM2: area, Plants: layout.Plants, ScaleM2: area * hand,
		Start: s.Started, SetOut: s.SetOut, Planned: none, Clear: calendar.None, Stands: true,
	}, nil
}
