package app

import (
	"context"
	"encoding/json"
	"fmt"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/cropping"
	"haulm/internal/diary"
	"haulm/internal/garden"
	"haulm/internal/grow"
	"haulm/internal/season"
)

// Lessons is what the diary of all years has taught of this garden: how its
// plants keep time and what they weigh, against the book in the weather that
// they really had. Nil for a garden that is only shown.
func (d *Desk) Lessons() (*season.Lessons, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.lessonsLocked(d.Today())
}

// lessonsLocked goes by the kept plans as written, not as told, so that telling
// a plan can go by the lessons in its turn.
func (d *Desk) lessonsLocked(today calendar.Date) (*season.Lessons, error) {
	if d.file == nil || d.garden == nil {
		return nil, nil
	}
	entries, err := d.diaryEntries()
	if err != nil || len(entries) == 0 {
		return nil, err
	}
	w, err := d.weatherLocked()
	if err != nil {
		return nil, err
	}
	plantings, err := d.everPlanned(d.garden, entries)
	if err != nil {
		return nil, err
	}
	return season.Learn(season.Input{
		Garden: d.garden, Catalogue: d.Catalogue, Plantings: plantings, Diary: entries, Record: w.Mended, Today: today,
	})
}

// habitLocked is Lessons as a plan goes by them.
func (d *Desk) habitLocked() (cropping.Habit, error) {
	lessons, err := d.lessonsLocked(d.Today())
	if err != nil || lessons == nil {
		return nil, err
	}
	return func(cr *crop.Crop, class string) (grow.Pace, float64) {
		h := lessons.Habit(cr, class)
		return h.Pace, h.Yield
	}, nil
}

// habit is habitLocked for whoever does not hold the desk.
func (d *Desk) habit() (cropping.Habit, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.habitLocked()
}

// everPlanned are the plantings of all plans, present and past, of which the
// diary speaks, and those that the garden says stand.
func (d *Desk) everPlanned(g *garden.Garden, entries []diary.Entry) ([]season.Planting, error) {
	plans, err := d.file.AllPlans(context.Background())
	if err != nil {
		return nil, err
	}
	hand, err := cropping.HandShare(g.Household.Experience)
	if err != nil {
		return nil, err
	}
	spoken := map[string]bool{}
	for _, e := range entries {
		if e.Planting != "" {
			spoken[e.Planting] = true
		}
	}
	var out []season.Planting
	for _, p := range plans {
		var saved savedPlan
		if json.Unmarshal(p.JSON, &saved) != nil {
			continue // an old plan that cannot be read teaches nothing
		}
		for _, s := range saved.Plantings {
			key := season.Key(s.Crop, s.Route, s.Place, s.FromCM, s.Start)
			if !spoken[key] {
				continue
			}
			delete(spoken, key)
			if p, ok := d.fromSaved(g, s, hand); ok {
				out = append(out, p)
			}
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

// fromSaved puts a planting of a kept plan into the season's terms; false where
// crop, route or place are no more.
func (d *Desk) fromSaved(g *garden.Garden, s cropping.Saved, hand float64) (season.Planting, bool) {
	p, err := d.fromStanding(g, garden.Standing{
		Place: s.Place, FromCM: s.FromCM, ToCM: s.ToCM, Crop: s.Crop, Route: s.Route, Class: s.Class, Started: s.Start, SetOut: calendar.None,
	}, hand)
	p.Stands = false // the diary says whether it was begun
	return p, err == nil
}

// LessonOf is what is known of one crop in this garden; ok is false where
// nothing is.
func (d *Desk) LessonOf(cropKey string) (lesson season.Lesson, ok bool, err error) {
	cr := d.Catalogue.Crop(cropKey)
	if cr == nil {
		return lesson, false, fmt.Errorf("no crop has the key %q", cropKey)
	}
	lessons, err := d.Lessons()
	if err != nil {
		return lesson, false, err
	}
	lesson, ok = lessons.Of(cr)
	return lesson, ok, nil
}
