package app

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"haulm/internal/calendar"
	"haulm/internal/cropping"
	"haulm/internal/diary"
	"haulm/internal/reckoning"
	"haulm/internal/season"
	"haulm/internal/store"
)

// YearAnswer is a year's reckoning, and when it was closed.
type YearAnswer struct {
	*reckoning.Review
	ClosedOn calendar.Date `json:"closed_on"` // None while it is open
}

// lastYearDays is how far into a season year the one before is still the one
// asked for, as long as it is open.
const lastYearDays = 75

// Reckon tells the year's end of a season year, or how far it has come. 0 asks
// for the year that is nearest its end: last year's in the first weeks of the
// next, until it is closed. A closed year is told as it was told then.
func (d *Desk) Reckon(year int) (*YearAnswer, error) {
	in, kept, err := d.reckonInput(year)
	if err != nil {
		return nil, err
	}
	if kept != nil {
		return kept, nil
	}
	review, err := reckoning.Reckon(*in)
	if err != nil {
		return nil, err
	}
	return &YearAnswer{review, calendar.None}, nil
}

// Years lists the season years of which something is known, the latest first:
// this one, those of the diary, those that were closed.
func (d *Desk) Years() ([]int, error) {
	g, err := d.Garden()
	if err != nil {
		return nil, err
	}
	years := []int{calendar.SeasonYear(d.Today(), g.Site.South())}
	entries, err := d.diaryEntries()
	if err != nil {
		return nil, err
	}
	for _, e := range entries {
		years = append(years, calendar.SeasonYear(e.Day, g.Site.South()))
	}
	ends, err := d.yearEnds()
	if err != nil {
		return nil, err
	}
	for _, end := range ends {
		years = append(years, end.Year)
	}
	slices.SortFunc(years, func(a, b int) int { return b - a })
	return slices.Compact(years), nil
}

func (d *Desk) yearEnds() ([]store.YearEnd, error) {
	if d.file == nil {
		return nil, nil
	}
	return d.file.YearEnds(context.Background())
}

// reckonYear is the year meant by 0.
func (d *Desk) reckonYear(year int, south bool, entries []diary.Entry, ends []store.YearEnd) int {
	if year != 0 {
		return year
	}
	today := d.Today()
	now := calendar.SeasonYear(today, south)
	closed := slices.ContainsFunc(ends, func(e store.YearEnd) bool { return e.Year == now-1 })
	if closed || today > calendar.SeasonStart(now, south).Add(lastYearDays) {
		return now
	}
	if slices.ContainsFunc(entries, func(e diary.Entry) bool { return calendar.SeasonYear(e.Day, south) == now-1 }) {
		return now - 1
	}
	return now
}

// reckonInput gathers what a year is reckoned from; the reckoning itself where
// the year was closed.
func (d *Desk) reckonInput(year int) (*reckoning.Input, *YearAnswer, error) {
	base, err := d.seasonInput(TodayQuestion{Day: calendar.None})
	if err != nil {
		return nil, nil, err
	}
	ends, err := d.yearEnds()
	if err != nil {
		return nil, nil, err
	}
	south := base.Garden.Site.South()
	year = d.reckonYear(year, south, base.Diary, ends)
	for _, end := range ends {
		if end.Year != year {
			continue
		}
		kept := &YearAnswer{ClosedOn: end.ClosedOn}
		if err := json.Unmarshal(end.Review, &kept.Review); err != nil {
			return nil, nil, fmt.Errorf("the reckoning of %d cannot be read: %w", year, err)
		}
		return nil, kept, nil
	}
	planned, err := d.planOf(year, south)
	if err != nil {
		return nil, nil, err
	}
	if base.Plantings, err = d.plantingsOf(base.Garden, planned); err != nil {
		return nil, nil, err
	}
	if _, err := d.adopt(&base); err != nil {
		return nil, nil, err
	}
	in := &reckoning.Input{Garden: base.Garden, Catalogue: d.Catalogue, Year: year, Today: base.Today, Diary: base.Diary, Record: base.Record,
		DiaryKept: diary.Kept(season.Known(base))}
	if planned != nil {
		in.PlannedPortions = planned.Year.Totals.FirstYear.P50
	}
	if in.Plantings, err = d.yearPlantings(in, base, planned); err != nil {
		return nil, nil, err
	}
	return in, nil, nil
}

// planOf is the plan by which a season year was gardened, nil where there is
// none that fits: the present one, or one that was put by.
func (d *Desk) planOf(year int, south bool) (*Planned, error) {
	planned, err := d.Planned()
	switch {
	case errors.Is(err, ErrNoPlan):
	case err != nil:
		return nil, err
	case planYear(planned.Year.From, south) == year:
		return planned, nil
	}
	if d.file == nil {
		return nil, nil
	}
	past, err := d.file.PastPlan(context.Background(), year)
	if store.KindOf(err) == store.Missing {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	planned, err = d.retell(past.JSON)
	if errors.Is(err, ErrNoPlan) {
		return nil, nil
	}
	return planned, err
}

// planYear is the season year that a plan from a day is for: one that begins in
// its last weeks is for the next.
func planYear(from calendar.Date, south bool) int {
	return calendar.SeasonYear(from.Add(planAheadDays), south)
}

// putPlanBy keeps the plan of the year before when one of another year is about
// to take its place.
func (d *Desk) putPlanBy(from calendar.Date) error {
	ctx := context.Background()
	old, err := d.file.LoadPlan(ctx)
	if store.KindOf(err) == store.Missing {
		return nil
	}
	if err != nil {
		return err
	}
	var was savedPlan
	if err := json.Unmarshal(old.JSON, &was); err != nil {
		return nil // a plan that cannot be read is not worth keeping by
	}
	south := d.garden.Site.South()
	if year := planYear(was.From, south); year < planYear(from, south) {
		return d.file.PutPlanBy(ctx, year)
	}
	return nil
}

// yearPlantings are the plantings of a year in the reckoning's terms.
func (d *Desk) yearPlantings(in *reckoning.Input, base season.Input, planned *Planned) ([]reckoning.Planting, error) {
	standing, err := season.Regrow(base)
	if err != nil {
		return nil, err
	}
	alive := map[string]bool{}
	for i := range standing {
		s := &standing[i]
		switch s.Stage {
		case season.Raising, season.Sown, season.Young, season.Growing, season.Flowering, season.Swelling, season.NearlyGrown, season.Picking:
			alive[s.Key] = true
		}
	}
	from, to := in.Span()
	told := toldByKey(planned)
	var out []reckoning.Planting
	known := map[string]bool{}
	for _, p := range season.Plantings(base) {
		if p.Stands && p.Start > to {
			continue // noted after the year
		}
		known[p.Key] = true
		r := reckoning.Planting{
			Key: p.Key, Crop: p.Crop, Class: p.Class, Route: p.Route, Place: p.Place, FromCM: p.FromCM, ToCM: p.ToCM, AreaM2: p.AreaM2, Plants: p.Plants,
			Planned: !p.Stands, Stood: p.Stands, Alive: alive[p.Key], Start: p.Start, SetOut: p.SetOut, Clear: p.Clear, FirstPick: reckoning.DateOdds(p.Planned),
		}
		key := p.Key
		if p.Stands {
			key = toldKey(p.Crop.Key, p.Route.Key, p.Place.Name, p.Start)
		}
		r.BegunBy = season.NotedBy(p.Key)
		if of := told[key]; of != nil && p.ScaleM2 > 0 {
			r.Kg = kgBetween(of, p.ScaleM2, from, to)
		}
		out = append(out, r)
	}
	return append(out, d.orphans(in, known)...), nil
}

// toldByKey are the plan's plantings, and what stood when it was made, by the
// key of the season.
func toldByKey(planned *Planned) map[string]*cropping.Planting {
	out := map[string]*cropping.Planting{}
	if planned == nil {
		return out
	}
	for i := range planned.Year.Plantings {
		p := &planned.Year.Plantings[i]
		if p.Stands {
			out[toldKey(p.Crop.Key, p.Route.Key, p.Place, p.Start)] = p
		} else {
			out[season.Key(p.Crop.Key, p.Route.Key, p.Place, p.FromCM, p.Start)] = p
		}
	}
	return out
}

// toldKey names what stood before the plan, whose stretch the plan rounds to
// its strips.
func toldKey(cropKey, routeKey, place string, started calendar.Date) string {
	return season.Key(cropKey, routeKey, place, -1, started)
}

// kgBetween is what each weather year brings of a planting between two days,
// both included.
func kgBetween(p *cropping.Planting, scaleM2 float64, from, to calendar.Date) []float64 {
	out := make([]float64, len(p.Courses))
	for y := range p.Courses {
		c := &p.Courses[y]
		for _, picking := range c.Pickings {
			if day := p.Start.Add(int(picking.Monday - c.Start)); day >= from && day <= to {
				out[y] += picking.KgPerM2 * scaleM2
			}
		}
	}
	return out
}

// orphans are plantings of which the diary of the year speaks and that no plan
// at hand knows any more. Their stretch is not known.
func (d *Desk) orphans(in *reckoning.Input, known map[string]bool) []reckoning.Planting {
	from, to := in.Span()
	var out []reckoning.Planting
	for _, e := range in.Diary {
		if e.Day < from || e.Day > to || e.Planting == "" || known[e.Planting] {
			continue
		}
		cropKey, routeKey, placeName, _, start, ok := season.SplitKey(e.Planting)
		c := d.Catalogue.Crop(cropKey)
		place, there := in.Garden.Place(placeName)
		if !ok || c == nil || !there {
			continue
		}
		route, err := c.Route(routeKey)
		if err != nil {
			continue
		}
		known[e.Planting] = true
		none := calendar.None
		out = append(out, reckoning.Planting{Key: e.Planting, Crop: c, Class: "mid", Route: route, Place: place, Start: start, SetOut: none, Clear: none,
			FirstPick: reckoning.DateOdds{P10: none, P50: none, P90: none}})
	}
	return out
}
