package garden

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"haulm/internal/calendar"
	"haulm/internal/soil"
)

// Write writes g in its text form: commented, in a stable order, and such
// that Parse gives g back exactly. It fails on text that is not UTF-8 and on
// what w reports.
func Write(w io.Writer, g *Garden) error {
	p := &printer{w: bufio.NewWriter(w)}
	p.head(g)
	p.household(g.Household)
	p.places(g.Places)
	p.wants(g.Wants)
	p.history(g.History)
	p.standing(g.Standing)
	p.inStore(g.InStore)
	p.locks(g.Locks)
	p.keeps(g.Keeps)
	if p.err != nil {
		return fmt.Errorf("garden %q: %w", g.Name, p.err)
	}
	if err := p.w.Flush(); err != nil {
		return fmt.Errorf("garden %q: %w", g.Name, err)
	}
	return nil
}

// printer writes lines and keeps the first error.
type printer struct {
	w   *bufio.Writer
	err error
}

func (p *printer) line(s string) { p.w.WriteString(s + "\n") } // bufio keeps the error for Flush

func (p *printer) comment(lines ...string) {
	p.line("")
	for _, s := range lines {
		p.line("# " + s)
	}
}

func (p *printer) text(key, value string) {
	if !utf8.ValidString(value) && p.err == nil {
		p.err = fmt.Errorf("%s %q is not UTF-8 text", key, value)
	}
	p.line(key + " = " + quote(value))
}

func (p *printer) number(key string, v float64) { p.line(key + " = " + formatNumber(v)) }
func (p *printer) whole(key string, v int)      { p.line(key + " = " + strconv.Itoa(v)) }

func (p *printer) date(key string, d calendar.Date) {
	if !d.Known() {
		p.err = fmt.Errorf("%s: the day is missing", key)
		return
	}
	if year := d.Year(); year < 1 || year > 9999 {
		p.err = fmt.Errorf("%s: a day in year %d cannot be written", key, year)
		return
	}
	p.line(key + " = " + d.String())
}

func (p *printer) head(g *Garden) {
	p.line("# A garden, as Haulm reads and writes it. Change what you like: text stands in")
	p.line("# quotes, units stand in the names, and lines that begin with # are notes.")
	p.whole("format", Format)
	p.text("name", g.Name)
	p.comment("The daily weather record: a file kept with the garden, or a built-in climate.")
	p.text("weather", g.WeatherRef)
	if g.Soil != "" {
		p.comment("What the ground is: "+strings.Join(soil.TextureNames(), ", ")+".", "A place may say its own.")
		p.text("soil", g.Soil)
	}
	p.comment("Where it lies: north and east are positive.")
	p.line("[site]")
	p.number("latitude_deg", g.Site.LatDeg)
	p.number("longitude_deg", g.Site.LonDeg)
	p.number("elevation_m", g.Site.ElevM)
}

func (p *printer) household(h Household) {
	p.comment("Who eats and who works. indoor_trays: 40-cell trays on the sill or bench at once.",
		"experience: new, some or long. units: metric or imperial, for what is shown.")
	p.line("[household]")
	p.whole("people", h.People)
	p.number("portions_per_person_per_day", h.PortionsPerDay)
	p.number("minutes_per_week", h.MinutesPerWeek)
	p.number("indoor_trays", h.IndoorTrays)
	p.text("experience", h.Experience)
	units := "metric"
	if h.Imperial {
		units = "imperial"
	}
	p.text("units", units)
}

// each writes a list as tables of one key under a comment; nothing where the
// list is empty.
func each[T any](p *printer, key string, list []T, write func(T), comment ...string) {
	if len(list) == 0 {
		return
	}
	p.comment(comment...)
	for i, v := range list {
		if i > 0 {
			p.line("")
		}
		p.line("[[" + key + "]]")
		write(v)
	}
}

func (p *printer) places(places []Place) {
	each(p, "place", places, p.place,
		"The ground. kind: bed, border, covered or pots. cover: fleece, double_fleece, cloche,",
		"frame, tunnel, greenhouse, or left out. sun_hours: direct sun on a clear summer day.",
		"runs_to: the compass point towards which it runs from its first end (N, NE, …), where it is known.",
		"watered = false: nobody waters it, rain must do.")
}

func (p *printer) place(place Place) {
	p.text("name", place.Name)
	p.text("kind", place.Kind)
	pots := place.Kind == Pots
	if !pots || place.LengthM != 0 {
		p.number("length_m", place.LengthM)
	}
	if !pots || place.WidthM != 0 {
		p.number("width_m", place.WidthM)
	}
	if pots || place.Pots != 0 {
		p.whole("pots", place.Pots)
	}
	if pots || place.Litres != 0 {
		p.number("litres", place.Litres)
	}
	p.number("sun_hours", place.SunHours)
	p.optional("cover", place.Cover)
	p.optional("soil", place.Soil)
	if place.RainFed {
		p.line("watered = false")
	}
	p.optional("runs_to", place.RunsTo)
}

func (p *printer) wants(wants []Want) {
	each(p, "want", wants, func(w Want) {
		p.text("dish", w.Dish)
		p.number("portions_per_week", w.PortionsPerWeek)
		p.number("liking", w.Liking)
	}, "The table: portions a week for the whole household when the dish is in season.",
		"liking: 0 never, 1 usual, 2 favourite.")
}

func (p *printer) history(history []Grown) {
	each(p, "grown", history, func(g Grown) {
		p.stretch(g.Place, g.FromCM, g.ToCM)
		p.text("crop", g.Crop)
		p.whole("year", g.Year)
	}, "What grew where, for the rotation. from_cm and to_cm are measured along the",
		"place (50 cm to a pot); year: the season in which it last stood there.")
}

func (p *printer) standing(standing []Standing) {
	each(p, "standing", standing, func(s Standing) {
		p.stretch(s.Place, s.FromCM, s.ToCM)
		p.planted(s.Crop, s.Route, s.Class)
		p.date("started", s.Started)
		p.optionalDate("set_out", s.SetOut)
	}, "What is in the ground now. started: sown, or planted where it came as sets,",
		"cloves or tubers. set_out: only for raised plants.")
}

func (p *printer) inStore(stores []InStore) {
	each(p, "in_store", stores, func(s InStore) {
		p.text("dish", s.Dish)
		p.number("kg", s.Kg)
	}, "What lies in store when the plan begins.")
}

func (p *printer) locks(locks []Lock) {
	each(p, "lock", locks, func(l Lock) {
		p.text("dish", l.Dish)
		p.optional("place", l.Place)
	}, "What shall not be planned: a dish, everywhere or in one place.")
}

func (p *printer) keeps(keeps []Keep) {
	each(p, "keep", keeps, func(k Keep) {
		p.stretch(k.Place, k.FromCM, k.ToCM)
		p.planted(k.Crop, k.Route, k.Class)
		p.optionalDate("start", k.Start)
	}, "What every plan shall have. start: the day of one planting; left out, the crop",
		"stands here every year and is begun when it does best.")
}

func (p *printer) stretch(place string, fromCM, toCM int) {
	p.text("place", place)
	p.whole("from_cm", fromCM)
	p.whole("to_cm", toCM)
}

func (p *printer) planted(crop, route, class string) {
	p.text("crop", crop)
	p.optional("route", route)
	p.optional("class", class)
}

func (p *printer) optional(key, value string) {
	if value != "" {
		p.text(key, value)
	}
}

func (p *printer) optionalDate(key string, d calendar.Date) {
	if d.Known() {
		p.date(key, d)
	}
}

// quote is s as a TOML basic string.
func quote(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteRune('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case r < 0x20 || r == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// formatNumber is a TOML number that reads back as exactly v. Plain decimals
// for every size a person would write; whole numbers past 1e15 take an
// exponent, since a TOML reader may not hold them exactly as integers.
func formatNumber(v float64) string {
	size := math.Abs(v)
	switch {
	case math.IsNaN(v):
		return "nan"
	case math.IsInf(v, 1):
		return "inf"
	case math.IsInf(v, -1):
		return "-inf"
	case v == 0 || size >= 1e-5 && size < 1e15:
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	return strconv.FormatFloat(v, 'e', -1, 64)
}
