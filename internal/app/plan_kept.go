package app

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"

	"haulm/internal/calendar"
	"haulm/internal/cropping"
	"haulm/internal/plan"
	"haulm/internal/store"
)

// savedPlan is a plan as kept in the file: plain JSON that names crops, routes
// and places, so that it can be read without Haulm.
type savedPlan struct {
	From      calendar.Date    `json:"from"`
	Value     float64          `json:"value"`
	Bound     float64          `json:"bound"` // no plan is worth more; 0 = not known
	Gap       float64          `json:"gap"`
	TidyLoss  float64          `json:"tidy_loss,omitzero"` // share of its worth that whole rows and even steps cost
	Shade     float64          `json:"shade_m2_weeks,omitzero"`
	Plantings []cropping.Saved `json:"plantings"`

	// Of a plan whose rest was planned again in the season.
	RestOn calendar.Date    `json:"rest_planned_on,omitzero"`
	Ended  []cropping.Saved `json:"ended,omitempty"` // what stood at the beginning and was over before its time
}

// Planned is the latest plan, told over the garden as it now is: what no
// longer fits is in Unfit. It is ErrNoPlan where there is none, or nothing of
// it fits.
func (d *Desk) Planned() (*Planned, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.planned != nil {
		return d.planned, nil
	}
	if d.garden == nil {
		return nil, ErrNoGarden
	}
	text, err := d.planText()
	if err != nil {
		return nil, err
	}
	d.planned, err = d.retell(text)
	return d.planned, err
}

func readSaved(text []byte) (*savedPlan, error) {
	var saved savedPlan
	if err := json.NewDecoder(bytes.NewReader(text)).Decode(&saved); err != nil {
		return nil, fmt.Errorf("the kept plan cannot be read: %w", err)
	}
	return &saved, nil
}

// planText is the plan kept, as text: in the file, or in memory where the
// garden is only shown.
func (d *Desk) planText() ([]byte, error) {
	if d.file == nil {
		if len(d.texts) == 0 {
			return nil, ErrNoPlan
		}
		return d.texts[len(d.texts)-1], nil
	}
	kept, err := d.file.LoadPlan(context.Background())
	if store.KindOf(err) == store.Missing {
		return nil, ErrNoPlan
	}
	return kept.JSON, err
}

// retell lays the garden out and finds the plan's plantings in it again.
func (d *Desk) retell(text []byte) (*Planned, error) {
	saved, err := readSaved(text)
	if err != nil {
		return nil, err
	}
	w, err := d.weatherLocked()
	if err != nil {
		return nil, err
	}
	habit, err := d.habitLocked()
	if err != nil {
		return nil, err
	}
	lay, err := cropping.NewLay(cropping.Question{
		Garden: d.garden, Catalogue: d.Catalogue, Climate: w.Climate, From: saved.From, Ended: saved.Ended, Habit: habit, Only: true,
	})
	if err != nil {
		return nil, err
	}
	plantings, unfit := lay.Match(saved.Plantings)
	if len(plantings) == 0 && len(unfit) > 0 {
		return nil, ErrNoPlan
	}
	worth, err := plan.Evaluate(lay.Problem, plantings)
	if err != nil {
		return nil, err
	}
	result := plan.Result{Value: worth.Total, Plantings: plantings}
	if len(unfit) == 0 && math.Abs(worth.Total-saved.Value) <= sameWorth*math.Abs(saved.Value) {
		result.Value, result.Bound, result.Gap = saved.Value, saved.Bound, saved.Gap
	}
	year, err := lay.Tell(plantings, result.Value)
	if err != nil {
		return nil, err
	}
	return &Planned{Lay: lay, Result: result, Year: year, Unfit: unfit, TidyLoss: saved.TidyLoss, Shade: saved.Shade}, nil
}

// sameWorth is how far a plan's worth may drift through rounding: beyond it
// the garden has changed, and the bound proven before proves nothing of it.
const sameWorth = 1e-6

// take keeps a plan as the present one.
func (d *Desk) take(p *Planned) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.takeLocked(p, 0, nil)
}

// takeLocked is take for a plan whose rest was planned again on a day, if it was.
func (d *Desk) takeLocked(p *Planned, restOn calendar.Date, ended []cropping.Saved) error {
	saved := savedPlan{
		From: p.Year.From, Value: p.Result.Value, Bound: p.Result.Bound, Gap: p.Result.Gap, TidyLoss: p.TidyLoss, Shade: p.Shade,
		Plantings: p.Lay.Save(p.Result.Plantings), RestOn: restOn, Ended: ended,
	}
	if err := d.keepText(saved, p.Result.Seed); err != nil {
		return err
	}
	d.planned = p
	return nil
}

func (d *Desk) keepText(saved savedPlan, seed int64) error {
	text, err := json.MarshalIndent(saved, "", " ")
	if err != nil {
		return fmt.Errorf("keeping the plan: %w", err)
	}
	if d.file == nil {
		d.texts = append(d.texts, text)
		return nil
	}
	if err := d.putPlanBy(saved.From); err != nil {
		return err
	}
	return d.file.SavePlan(context.Background(), store.Plan{MadeOn: d.Today(), Seed: seed, JSON: text}, d.now())
}

// CanUndoPlan says whether a plan is kept that the present one took the place of.
func (d *Desk) CanUndoPlan() bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.file == nil {
		return len(d.texts) > 1
	}
	n, err := d.file.EarlierPlans(context.Background())
	return err == nil && n > 0
}

// UndoPlan brings back the plan that the present one took the place of.
func (d *Desk) UndoPlan() error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.file == nil {
		if len(d.texts) < 2 {
			return errors.New("there is no earlier plan to go back to")
		}
		d.texts = d.texts[:len(d.texts)-1]
	} else if err := d.file.UndoPlan(context.Background()); err != nil {
		return err
	}
	d.planned = nil
	return nil
}
