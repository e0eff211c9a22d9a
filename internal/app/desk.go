package app

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"sync"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/cropping"
	"haulm/internal/garden"
	"haulm/internal/normals"
	"haulm/internal/plan"
	"haulm/internal/store"
	"haulm/internal/weather"
)

// Desk is one open garden: its file, its weather made ready, its latest plan.
// It may be used by several goroutines.
type Desk struct {
	Catalogue *crop.Catalogue

	file *store.Store // nil for a garden that is only shown
	now  func() time.Time

	mu      sync.Mutex
	garden  *garden.Garden
	weather *Weather
	planned *Planned
}

// ErrNoGarden is what a Desk says before there is a garden.
var ErrNoGarden = errors.New("there is no garden yet: make one on the first page, or import one with haulm import FILE.toml")

// ErrNoPlan is what a Desk says before there is a plan.
var ErrNoPlan = errors.New("there is no plan yet: make one with haulm plan, or on the Plan page")

// OpenDesk opens the garden kept in a file. The file may hold none yet.
func OpenDesk(ctx context.Context, file *store.Store, catalogue *crop.Catalogue, now func() time.Time) (*Desk, error) {
	d := &Desk{Catalogue: catalogue, file: file, now: now}
	g, err := file.LoadGarden(ctx)
	if store.KindOf(err) == store.Missing {
		return d, nil
	}
	if err != nil {
		return nil, err
	}
	d.garden = g
	return d, nil
}

// ShowDesk is a desk for a garden that is kept nowhere: the demonstration.
func ShowDesk(g *garden.Garden, catalogue *crop.Catalogue, now func() time.Time) *Desk {
	return &Desk{Catalogue: catalogue, garden: g, now: now}
}

// Today is the day that the desk takes for today.
func (d *Desk) Today() calendar.Date { return calendar.FromTime(d.now()) }

// Kept says whether changes are written to a file.
func (d *Desk) Kept() bool { return d.file != nil }

// Garden is the garden, or ErrNoGarden.
func (d *Desk) Garden() (*garden.Garden, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.garden == nil {
		return nil, ErrNoGarden
	}
	return d.garden, nil
}

// SaveGarden checks and keeps a garden. What was planned before for another
// state of it stays until the next plan.
func (d *Desk) SaveGarden(g *garden.Garden) error {
	if err := CheckGarden(g, d.Catalogue); err != nil {
		return err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.file != nil {
		if err := d.file.SaveGarden(context.Background(), g, d.now()); err != nil {
			return err
		}
	}
	if d.garden == nil || d.garden.WeatherRef != g.WeatherRef || d.garden.Site != g.Site {
		d.weather = nil
	}
	d.garden = g
	d.planned = nil
	return nil
}

// CheckGarden says what is wrong with a garden, in one sentence.
func CheckGarden(g *garden.Garden, catalogue *crop.Catalogue) error {
	if err := garden.Check(g); err != nil {
		return err
	}
	return garden.CheckNames(g, garden.NamesOf(catalogue.Crops()))
}

// SaveRecord keeps a weather record with the garden under its reference.
func (d *Desk) SaveRecord(ref string, rec *weather.Record) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.file == nil {
		return errors.New("this garden is only shown: start haulm serve with a garden of your own to give it a record")
	}
	if err := d.file.SaveRecord(context.Background(), ref, rec); err != nil {
		return err
	}
	d.weather = nil
	return nil
}

// Weather is the garden's record made ready.
func (d *Desk) Weather() (*Weather, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.weatherLocked()
}

func (d *Desk) weatherLocked() (*Weather, error) {
	if d.garden == nil {
		return nil, ErrNoGarden
	}
	if d.weather != nil {
		return d.weather, nil
	}
	rec, err := d.record()
	if err != nil {
		return nil, err
	}
	rec.Site.LatDeg, rec.Site.LonDeg = d.garden.Site.LatDeg, d.garden.Site.LonDeg
	w, err := Prepare(rec, d.Catalogue)
	if err != nil {
		return nil, err
	}
	d.weather = w
	return w, nil
}

// builtInPrefix marks a weather reference that names an embedded climate.
const builtInPrefix = "built-in:"

func (d *Desk) record() (*weather.Record, error) {
	ref := d.garden.WeatherRef
	if ref == EstimateRef {
		return EstimateFor(d.garden.Site)
	}
	if name, ok := strings.CutPrefix(ref, builtInPrefix); ok {
		return normals.BuiltIn(name)
	}
	if d.file == nil {
		return nil, fmt.Errorf("the record %q is not kept with this garden", ref)
	}
	return d.file.LoadRecord(context.Background(), ref)
}

// Planned is the latest plan: from memory, or told again from the file. It is
// ErrNoPlan where none fits the garden as it now is.
func (d *Desk) Planned() (*Planned, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.planned != nil {
		return d.planned, nil
	}
	if d.garden == nil {
		return nil, ErrNoGarden
	}
	if d.file == nil {
		return nil, ErrNoPlan
	}
	saved, err := d.file.LoadPlan(context.Background())
	if store.KindOf(err) == store.Missing {
		return nil, ErrNoPlan
	}
	if err != nil {
		return nil, err
	}
	d.planned, err = d.retell(saved.JSON)
	return d.planned, err
}

// savedPlan is a plan as kept in the file: plain JSON that names crops, routes
// and places, so that it can be read without Haulm.
type savedPlan struct {
	From      calendar.Date    `json:"from"`
	Value     float64          `json:"value"`
	Bound     float64          `json:"bound"` // no plan is worth more
	Gap       float64          `json:"gap"`
	Plantings []cropping.Saved `json:"plantings"`
}

func (d *Desk) retell(text []byte) (*Planned, error) {
	var saved savedPlan
	if err := json.NewDecoder(bytes.NewReader(text)).Decode(&saved); err != nil {
		return nil, fmt.Errorf("the kept plan cannot be read: %w", err)
	}
	w, err := d.weatherLocked()
	if err != nil {
		return nil, err
	}
	lay, err := cropping.NewLay(cropping.Question{Garden: d.garden, Catalogue: d.Catalogue, Climate: w.Climate, From: saved.From})
	if err != nil {
		return nil, err
	}
	plantings, ok := lay.Match(saved.Plantings)
	if !ok {
		return nil, ErrNoPlan // the garden has changed since
	}
	year, err := lay.Tell(plantings, saved.Value)
	if err != nil {
		return nil, err
	}
	return &Planned{Lay: lay, Year: year, Result: plan.Result{Value: saved.Value, Bound: saved.Bound, Gap: saved.Gap, Plantings: plantings}}, nil
}

// MakePlan plans the year from from on (None: the next season) and keeps the
// plan.
func (d *Desk) MakePlan(ctx context.Context, from calendar.Date, seconds float64, seed int64, progress func(plan.Progress)) (*Planned, error) {
	g, err := d.Garden()
	if err != nil {
		return nil, err
	}
	w, err := d.Weather()
	if err != nil {
		return nil, err
	}
	if !from.Known() {
		from = NextSeason(d.Today(), g.Site.South())
	}
	planned, err := w.Plan(ctx, PlanQuestion{Garden: g, From: from, Seconds: seconds, Seed: seed, Progress: progress}, d.Catalogue)
	if err != nil {
		return nil, err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	d.planned = planned
	return planned, d.keepPlan(planned)
}

func (d *Desk) keepPlan(p *Planned) error {
	if d.file == nil {
		return nil
	}
	text, err := json.MarshalIndent(savedPlan{p.Year.From, p.Result.Value, p.Result.Bound, p.Result.Gap, p.Lay.Save(p.Result.Plantings)}, "", " ")
	if err != nil {
		return fmt.Errorf("keeping the plan: %w", err)
	}
	return d.file.SavePlan(context.Background(), store.Plan{MadeOn: d.Today(), Seed: p.Result.Seed, JSON: text})
}
