package app

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"sync"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/fetch"
	"haulm/internal/garden"
	"haulm/internal/normals"
	"haulm/internal/store"
	"haulm/internal/weather"
)

// Desk is one open garden: its file, its weather made ready, its latest plan.
// It may be used by several goroutines.
type Desk struct {
	Catalogue *crop.Catalogue

	file *store.Store // nil for a garden that is only shown
	now  func() time.Time

	version int64 // of the file as last written by another program, see Refresh

	reading sync.Mutex // one diary is read in at a time, so that a form sent twice doubles nothing

	mu       sync.Mutex
	garden   *garden.Garden
	weather  *Weather
	planned  *Planned
	expected expectations
	texts    [][]byte // the plans of a garden that is only shown, the present one last
	waiting  []byte   // of such a garden, the change to the plan that waits to be accepted

	forecasts *fetch.Client // reads what was fetched; nil = none is gone by
}

// ErrNoGarden is what a Desk says before there is a garden.
var ErrNoGarden = errors.New("there is no garden yet: make one on the first page (haulm serve), or import one with haulm import FILE.toml")

// ErrNoPlan is what a Desk says before there is a plan.
var ErrNoPlan = errors.New("there is no plan yet: make one with haulm plan, or on the Plan page")

// OpenDesk opens the garden kept in a file. The file may hold none yet.
func OpenDesk(ctx context.Context, file *store.Store, catalogue *crop.Catalogue, now func() time.Time) (*Desk, error) {
	version, err := file.WrittenElsewhere(ctx)
	if err != nil {
		return nil, err
	}
	d := &Desk{Catalogue: catalogue, file: file, now: now, version: version}
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

// orToday is a day, or today where none is given: None or the zero Date.
func (d *Desk) orToday(day calendar.Date) calendar.Date {
	if !day.Known() || day == 0 {
		return d.Today()
	}
	return day
}

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

// SaveGarden checks and keeps a garden. What was planned before stays, as far
// as it fits.
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
	toGarden(rec, d.garden.WeatherRef, d.garden.Site)
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
