package store

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/garden"
)

// queryer is a database or a transaction.
type queryer interface {
	QueryContext(context.Context, string, ...any) (*sql.Rows, error)
	QueryRowContext(context.Context, string, ...any) *sql.Row
}

// LoadGarden reads the garden. A file in which none was saved yet gives an
// Error of kind Missing.
func (s *Store) LoadGarden(ctx context.Context) (*garden.Garden, error) {
	// One transaction, so that no save falls between the tables.
	tx, err := s.read.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return nil, fmt.Errorf("reading the garden: %w", s.explain(err))
	}
	defer func() { _ = tx.Rollback() }()
	g, err := loadGarden(ctx, tx)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return nil, s.missing("no garden has been made in it yet; make one or import one")
	case err != nil:
		return nil, fmt.Errorf("reading the garden: %w", s.explain(err))
	}
	return g, nil
}

// SaveGarden replaces the garden, all of it or nothing; at is the time now.
// What it replaces is kept as a revision. A garden that garden.Check finds
// unsound is refused, and one that is as it was changes nothing.
func (s *Store) SaveGarden(ctx context.Context, g *garden.Garden, at time.Time) error {
	if err := garden.Check(g); err != nil {
		return err
	}
	text, err := textOf(g)
	if err != nil {
		return err
	}
	return s.inTx(ctx, "saving the garden", func(tx *sql.Tx) error {
		_, err := putGarden(ctx, tx, g, text, at)
		return err
	})
}

func textOf(g *garden.Garden) (string, error) {
	var text bytes.Buffer
	if err := garden.Write(&text, g); err != nil {
		return "", err
	}
	return text.String(), nil
}

func replaceGarden(ctx context.Context, tx *sql.Tx, g *garden.Garden, at time.Time) error {
	for _, table := range []string{"garden", "place", "want", "grown", "standing", "in_store", "lock", "keep"} {
		if _, err := tx.ExecContext(ctx, "DELETE FROM "+table); err != nil {
			return err
		}
	}
	h := g.Household
	w := &writer{ctx: ctx, tx: tx}
	w.insert("garden", 1, g.Name, g.WeatherRef, g.Site.LatDeg, g.Site.LonDeg, g.Site.ElevM,
		h.People, h.PortionsPerDay, h.MinutesPerWeek, h.IndoorTrays, h.Experience, h.Imperial, stamp(at), g.Soil)
	for i, p := range g.Places {
		w.insert("place", i, p.Name, p.Kind, p.LengthM, p.WidthM, p.SunHours, p.Cover, p.Pots, p.Litres, p.Soil, p.RunsTo, p.RainFed)
	}
	for i, v := range g.Wants {
		w.insert("want", i, v.Dish, v.PortionsPerWeek, v.Liking)
	}
	for i, v := range g.History {
		w.insert("grown", i, v.Place, v.FromCM, v.ToCM, v.Crop, v.Year)
	}
	for i, v := range g.Standing {
		w.insert("standing", i, v.Place, v.FromCM, v.ToCM, v.Crop, v.Route, v.Class, v.Started.String(), v.SetOut.String())
	}
	for i, v := range g.InStore {
		w.insert("in_store", i, v.Dish, v.Kg)
	}
	for i, v := range g.Locks {
		w.insert("lock", i, v.Dish, v.Place)
	}
	for i, v := range g.Keeps {
		w.insert("keep", i, v.Place, v.FromCM, v.ToCM, v.Crop, v.Route, v.Class, v.Start.String())
	}
	return w.err
}

// writer inserts rows and keeps the first error.
type writer struct {
	ctx context.Context
	tx  *sql.Tx
	err error
}

func (w *writer) insert(table string, values ...any) {
	if w.err != nil {
		return
	}
	marks := bytes.Repeat([]byte("?,"), len(values))
	query := "INSERT INTO " + table + " VALUES (" + string(marks[:len(marks)-1]) + ")"
	_, w.err = w.tx.ExecContext(w.ctx, query, values...)
}

func loadGarden(ctx context.Context, q queryer) (*garden.Garden, error) {
	g := &garden.Garden{}
	h := &g.Household
	err := q.QueryRowContext(ctx, `SELECT name, weather_ref, latitude_deg, longitude_deg, elevation_m, people,
		portions_per_day, minutes_per_week, indoor_trays, experience, imperial, soil FROM garden`).Scan(
		&g.Name, &g.WeatherRef, &g.Site.LatDeg, &g.Site.LonDeg, &g.Site.ElevM, &h.People,
		&h.PortionsPerDay, &h.MinutesPerWeek, &h.IndoorTrays, &h.Experience, &h.Imperial, &g.Soil)
	if err != nil {
		return nil, err
	}
	r := &reader{ctx: ctx, q: q}
	g.Places = list(r, "SELECT name, kind, length_m, width_m, sun_hours, cover, pots, litres, soil, runs_to, rain_fed FROM place ORDER BY ord",
		func(p *garden.Place) []any {
			return []any{&p.Name, &p.Kind, &p.LengthM, &p.WidthM, &p.SunHours, &p.Cover, &p.Pots, &p.Litres, &p.Soil, &p.RunsTo, &p.RainFed}
		})
	g.Wants = list(r, "SELECT dish, portions_per_week, liking FROM want ORDER BY ord",
		func(w *garden.Want) []any { return []any{&w.Dish, &w.PortionsPerWeek, &w.Liking} })
	g.History = list(r, "SELECT place, from_cm, to_cm, crop, year FROM grown ORDER BY ord",
		func(h *garden.Grown) []any { return []any{&h.Place, &h.FromCM, &h.ToCM, &h.Crop, &h.Year} })
	g.Standing = list(r, "SELECT place, from_cm, to_cm, crop, route, class, started, set_out FROM standing ORDER BY ord",
		func(s *garden.Standing) []any {
			return []any{&s.Place, &s.FromCM, &s.ToCM, &s.Crop, &s.Route, &s.Class, day{&s.Started}, day{&s.SetOut}}
		})
	g.InStore = list(r, "SELECT dish, kg FROM in_store ORDER BY ord",
		func(s *garden.InStore) []any { return []any{&s.Dish, &s.Kg} })
	g.Locks = list(r, "SELECT dish, place FROM lock ORDER BY ord",
		func(l *garden.Lock) []any { return []any{&l.Dish, &l.Place} })
	g.Keeps = list(r, "SELECT place, from_cm, to_cm, crop, route, class, start FROM keep ORDER BY ord",
		func(k *garden.Keep) []any {
			return []any{&k.Place, &k.FromCM, &k.ToCM, &k.Crop, &k.Route, &k.Class, day{&k.Start}}
		})
	return g, r.err
}

// reader reads lists and keeps the first error.
type reader struct {
	ctx context.Context
	q   queryer
	err error
}

// list reads one row into each T by the fields that it gives; nil for none.
func list[T any](r *reader, query string, fields func(*T) []any) []T {
	if r.err != nil {
		return nil
	}
	rows, err := r.q.QueryContext(r.ctx, query)
	if err != nil {
		r.err = err
		return nil
	}
	defer rows.Close()
	var out []T
	for rows.Next() {
		var v T
		if r.err = rows.Scan(fields(&v)...); r.err != nil {
			return nil
		}
		out = append(out, v)
	}
	r.err = rows.Err()
	return out
}

// day scans an ISO date; empty text is calendar.None.
type day struct{ d *calendar.Date }

// Scan implements sql.Scanner.
func (s day) Scan(v any) error {
	text, ok := v.(string)
	if !ok {
		return fmt.Errorf("a date is kept as %T", v)
	}
	return s.d.UnmarshalText([]byte(text))
}

// stamp is a moment as the file keeps it.
func stamp(at time.Time) string { return at.UTC().Format(time.RFC3339) }

// moment scans what stamp wrote.
type moment struct{ at *time.Time }

// Scan implements sql.Scanner.
func (s moment) Scan(v any) (err error) {
	text, ok := v.(string)
	if !ok {
		return fmt.Errorf("a moment is kept as %T", v)
	}
	*s.at, err = time.Parse(time.RFC3339, text)
	return err
}
