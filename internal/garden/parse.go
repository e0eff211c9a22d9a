package garden

import (
	"errors"
	"fmt"
	"io"
	"strconv"

	"github.com/BurntSushi/toml"

	"haulm/internal/weather"
)

// Format is the version of the text form that Write writes. Parse refuses a
// higher one, since keys it does not know could be lost.
const Format = 1

// maxTextBytes bounds the text form; the largest sensible garden takes a
// tenth of it.
const maxTextBytes = 4 << 20

// Parse reads a garden from its text form (TOML; see data/demo.toml). It is
// strict: a misspelt key, a missing one or a value of the wrong type is an
// error that names the line and the nearest right key. Whether the garden
// makes sense is Check's business. Empty lists come back nil.
func Parse(r io.Reader) (*Garden, error) {
	raw, err := io.ReadAll(io.LimitReader(r, maxTextBytes+1))
	if err != nil {
		return nil, fmt.Errorf("garden text: %w", err)
	}
	if len(raw) > maxTextBytes {
		return nil, fmt.Errorf("garden text: longer than %d MB; this is not a garden file", maxTextBytes>>20)
	}
	var doc map[string]any
	_, err = toml.Decode(string(raw), &doc)
	if err == nil && len(doc) == 0 {
		return nil, errors.New("garden text: it is empty; begin with name = \"…\", or start from the example garden")
	}
	if foreign := foreign(string(raw)); foreign != nil {
		return nil, fmt.Errorf("garden text: %w", foreign)
	}
	if err != nil {
		return nil, fmt.Errorf("garden text: %w", unreadable(string(raw), err))
	}
	g, err := build(doc, indexLines(string(raw)))
	if err != nil {
		return nil, fmt.Errorf("garden text: %w", err)
	}
	return g, nil
}

func build(doc map[string]any, lines lineIndex) (*Garden, error) {
	g := &Garden{}
	top := &table{keys: doc, lines: lines}
	if version := top.whole("format", false); version > Format {
		top.fail("format", "this garden was written by a newer Haulm (text format %d, this one knows %d); update Haulm to read it", version, Format)
		return nil, top.err
	}
	g.Name = top.text("name", true)
	g.WeatherRef = top.text("weather", true)
	g.Soil = top.text("soil", false)
	top.one("site", true, func(t *table) { g.Site = readSite(t) })
	top.one("household", true, func(t *table) { g.Household = readHousehold(t) })
	top.many("want", func(t *table) { g.Wants = append(g.Wants, readWant(t)) })
	top.many("place", func(t *table) { g.Places = append(g.Places, readPlace(t)) })
	top.many("grown", func(t *table) { g.History = append(g.History, readGrown(t)) })
	top.many("standing", func(t *table) { g.Standing = append(g.Standing, readStanding(t)) })
	top.many("in_store", func(t *table) { g.InStore = append(g.InStore, readInStore(t)) })
	top.many("lock", func(t *table) { g.Locks = append(g.Locks, readLock(t)) })
	top.many("keep", func(t *table) { g.Keeps = append(g.Keeps, readKeep(t)) })
	if err := top.done(); err != nil {
		return nil, err
	}
	return g, nil
}

// one reads a sub-table.
func (t *table) one(key string, needed bool, read func(*table)) {
	v, ok := t.get(key, needed)
	if !ok || t.err != nil {
		return
	}
	m, ok := v.(map[string]any)
	if !ok {
		t.fail(key, "%s must be a table: a line [%s] with its keys below", key, key)
		return
	}
	sub := &table{path: key, title: key, keys: m, lines: t.lines}
	read(sub)
	t.err = sub.done()
}

// many reads an array of tables.
func (t *table) many(key string, read func(*table)) {
	v, ok := t.get(key, false)
	if !ok || t.err != nil {
		return
	}
	list, ok := tables(v)
	if !ok {
		t.fail(key, "%s must be written as [[%s]], once for each", key, key)
		return
	}
	for i, m := range list {
		sub := &table{path: element(key, i), title: title(key, i, m), keys: m, lines: t.lines}
		read(sub)
		if t.err = sub.done(); t.err != nil {
			return
		}
	}
}

func tables(v any) ([]map[string]any, bool) {
	switch list := v.(type) {
	case []map[string]any:
		return list, true
	case []any:
		out := make([]map[string]any, len(list))
		for i, item := range list {
			m, ok := item.(map[string]any)
			if !ok {
				return nil, false
			}
			out[i] = m
		}
		return out, true
	}
	return nil, false
}

// title names the i-th of a list by what a person wrote in it.
func title(key string, i int, m map[string]any) string {
	for _, name := range []string{"name", "crop", "dish"} {
		if s, ok := m[name].(string); ok && s != "" {
			return fmt.Sprintf("%s %q", key, s)
		}
	}
	return key + " " + strconv.Itoa(i+1)
}

func readSite(t *table) weather.Site {
	return weather.Site{
		LatDeg: t.number("latitude_deg", true),
		LonDeg: t.number("longitude_deg", true),
		ElevM:  t.number("elevation_m", true),
	}
}

func readHousehold(t *table) Household {
	h := Household{
		People:         t.whole("people", true),
		PortionsPerDay: t.number("portions_per_person_per_day", true),
		MinutesPerWeek: t.number("minutes_per_week", true),
		IndoorTrays:    t.number("indoor_trays", true),
		Experience:     t.text("experience", true),
	}
	switch units := t.text("units", true); units {
	case "metric", "":
	case "imperial":
		h.Imperial = true
	default:
		t.fail("units", "units %q is not known; write \"metric\" or \"imperial\"", units)
	}
	return h
}

func readWant(t *table) Want {
	return Want{
		Dish:            t.text("dish", true),
		PortionsPerWeek: t.number("portions_per_week", true),
		Liking:          t.number("liking", true),
	}
}

func readPlace(t *table) Place {
	p := Place{Name: t.text("name", true), Kind: t.text("kind", true)}
	pots := p.Kind == Pots
	p.LengthM = t.number("length_m", !pots)
	p.WidthM = t.number("width_m", !pots)
	p.Pots = t.whole("pots", pots)
	p.Litres = t.number("litres", pots)
	p.SunHours = t.number("sun_hours", true)
	p.Cover = t.text("cover", false)
	p.Soil = t.text("soil", false)
	p.RainFed = !t.yes("watered", true)
	p.RunsTo = t.text("runs_to", false)
	return p
}

func readGrown(t *table) Grown {
	return Grown{
		Place:  t.text("place", true),
		FromCM: t.whole("from_cm", true),
		ToCM:   t.whole("to_cm", true),
		Crop:   t.text("crop", true),
		Year:   t.whole("year", true),
	}
}

func readStanding(t *table) Standing {
	return Standing{
		Place:   t.text("place", true),
		FromCM:  t.whole("from_cm", true),
		ToCM:    t.whole("to_cm", true),
		Crop:    t.text("crop", true),
		Route:   t.text("route", false),
		Class:   t.text("class", false),
		Started: t.date("started", true),
		SetOut:  t.date("set_out", false),
	}
}

func readInStore(t *table) InStore {
	return InStore{Dish: t.text("dish", true), Kg: t.number("kg", true)}
}

func readLock(t *table) Lock {
	return Lock{Dish: t.text("dish", true), Place: t.text("place", false)}
}

func readKeep(t *table) Keep {
	return Keep{
		Place:  t.text("place", true),
		FromCM: t.whole("from_cm", true),
		ToCM:   t.whole("to_cm", true),
		Crop:   t.text("crop", true),
		Route:  t.text("route", false),
		Class:  t.text("class", false),
		Start:  t.date("start", false),
	}
}
