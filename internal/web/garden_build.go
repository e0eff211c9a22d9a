package web

import (
	"fmt"
	"strings"

	"haulm/internal/app"
	"haulm/internal/calendar"
	"haulm/internal/garden"
)

// build makes the garden that the form describes, and faults every field that
// is wrong. It reports whether none is. The bounds are the garden's own: each
// figure is tried alone in a sound garden.
func (f *gardenForm) build(before *garden.Garden) (*garden.Garden, bool) {
	g := &garden.Garden{Name: strings.TrimSpace(f.Name.Value)}
	if err := probe(func(s *garden.Garden) { s.Name = g.Name }); err != nil {
		f.Name.Fault = tail(err)
	}
	f.buildSite(g)
	f.buildHousehold(g)
	f.buildPlaces(g)
	f.buildWants(g)
	f.buildGrown(g)
	f.buildStanding(g)
	for _, l := range f.Locks.Lines {
		if l.value("dish") != "" {
			g.Locks = append(g.Locks, garden.Lock{Dish: l.value("dish"), Place: f.renamed(l.value("place"))})
		}
	}
	f.buildKeeps(g)
	if before != nil {
		g.InStore = before.InStore // the form does not ask for it
	}
	f.buildWeather(g, before)
	f.Faults = f.faults()
	if len(f.Faults) > 0 {
		return g, false
	}
	if err := app.CheckGarden(g, f.catalogue); err != nil {
		f.Faults = []faultLink{{"#main", "The garden", capital(sentence(err.Error()))}}
		return g, false
	}
	return g, true
}

// sound is a garden that nothing is wrong with.
func sound() *garden.Garden {
	return &garden.Garden{
		Name: "A", WeatherRef: builtIn,
		Household: garden.Household{People: 1, Experience: "some"},
		Places:    []garden.Place{{Name: "B", Kind: garden.Bed, LengthM: 1, WidthM: 1}},
	}
}

// probe says what is wrong with a sound garden once changed.
func probe(change func(*garden.Garden)) error {
	s := sound()
	change(s)
	return garden.Check(s)
}

// tail is an error without the words that say where: the field says that.
func tail(err error) string {
	text := err.Error()
	if _, rest, ok := strings.Cut(text, ": "); ok {
		text = rest
	}
	return capital(sentence(text))
}

// numberInto reads a field into a garden and tries it alone.
func (f *gardenForm) numberInto(fl *field, g *garden.Garden, set func(*garden.Garden, float64)) {
	v, ok := fl.number()
	if !ok {
		return
	}
	if err := probe(func(s *garden.Garden) { set(s, v) }); err != nil {
		fl.Fault = tail(err)
		return
	}
	set(g, v)
}

// degrees reads a latitude or longitude, "6.3 W" as well as "-6.3".
func (f *gardenForm) degreesInto(fl *field, positive, negative string, g *garden.Garden, set func(*garden.Garden, float64)) {
	read, sign := *fl, 1.0
	read.Value = strings.TrimSpace(strings.ReplaceAll(fl.Value, "°", ""))
	if last := len(read.Value) - 1; last >= 0 {
		switch side := read.Value[last:]; {
		case strings.EqualFold(side, negative):
			read.Value, sign = read.Value[:last], -1
		case strings.EqualFold(side, positive):
			read.Value = read.Value[:last]
		}
	}
	if _, ok := read.number(); !ok {
		read.Value = fl.Value // the fault tells it as it was typed
	}
	f.numberInto(&read, g, func(g *garden.Garden, v float64) { set(g, sign*v) })
	fl.Fault = read.Fault
}

func (f *gardenForm) buildSite(g *garden.Garden) {
	f.degreesInto(&f.Lat, "N", "S", g, func(g *garden.Garden, v float64) { g.Site.LatDeg = v })
	f.degreesInto(&f.Lon, "E", "W", g, func(g *garden.Garden, v float64) { g.Site.LonDeg = v })
	f.numberInto(&f.Elev, g, func(g *garden.Garden, v float64) { g.Site.ElevM = v })
	g.Soil = f.Soil.Value
	if err := probe(func(s *garden.Garden) { s.Soil = g.Soil }); err != nil {
		f.Soil.Fault = tail(err)
	}
}

func (f *gardenForm) buildHousehold(g *garden.Garden) {
	if n, ok := f.People.whole(); ok {
		g.Household.People = n
		if err := probe(func(s *garden.Garden) { s.Household.People = n }); err != nil {
			f.People.Fault = tail(err)
		}
	}
	f.numberInto(&f.Portions, g, func(g *garden.Garden, v float64) { g.Household.PortionsPerDay = v })
	f.numberInto(&f.Minutes, g, func(g *garden.Garden, v float64) { g.Household.MinutesPerWeek = v })
	f.numberInto(&f.Trays, g, func(g *garden.Garden, v float64) { g.Household.IndoorTrays = v })
	g.Household.Experience = f.Experience.Value
	if err := probe(func(s *garden.Garden) { s.Household.Experience = g.Household.Experience }); err != nil {
		f.Experience.Fault = tail(err)
	}
	g.Household.Imperial = f.Units.Value == "imperial"
}

// renamed is a place's present name where it was called name before.
func (f *gardenForm) renamed(name string) string {
	for _, l := range f.Places.Lines {
		if l.value("name") == name {
			return name
		}
	}
	for _, l := range f.Places.Lines {
		if l.value("was") == name && name != "" {
			return l.value("name")
		}
	}
	return name
}

// buildStretch reads where something grows or grew, and what.
func (f *gardenForm) buildStretch(l line, g *garden.Garden) (place string, from, to int, key string) {
	place = f.renamed(l.value("place"))
	from, okFrom := l.at("from").whole()
	to, okTo := l.at("to").whole()
	if c, err := f.catalogue.Find(l.value("crop")); err != nil {
		l.at("crop").Fault = capital(sentence(err.Error()))
	} else {
		key = c.Key
	}
	where, ok := g.Place(place)
	switch {
	case !ok:
		l.at("place").Fault = fmt.Sprintf("No place is called %q; name one of those above.", place)
	case where.LengthCM() == 0: // its own fault is told with it
	case okFrom && okTo && (from < 0 || to > where.LengthCM() || from >= to):
		l.at("to").Fault = fmt.Sprintf("From %d to %d cm is no stretch of %s, which is %d cm long.", from, to, place, where.LengthCM())
	}
	return place, from, to, key
}

func (f *gardenForm) buildGrown(g *garden.Garden) {
	for _, l := range f.Grown.Lines {
		if l.blank() {
			continue
		}
		v := garden.Grown{}
		v.Place, v.FromCM, v.ToCM, v.Crop = f.buildStretch(l, g)
		if year, ok := l.at("year").whole(); ok {
			v.Year = year
			if err := probe(func(s *garden.Garden) {
				s.History = []garden.Grown{{Place: "B", ToCM: 10, Crop: "x", Year: year}}
			}); err != nil {
				l.at("year").Fault = tail(err)
			}
		}
		g.History = append(g.History, v)
	}
}

func (f *gardenForm) buildStanding(g *garden.Garden) {
	for _, l := range f.Stands.Lines {
		if l.blank() {
			continue
		}
		v := garden.Standing{Class: l.value("class"), Started: noDay, SetOut: noDay}
		v.Place, v.FromCM, v.ToCM, v.Crop = f.buildStretch(l, g)
		if c := f.catalogue.Crop(v.Crop); c != nil {
			if route, err := c.Route(l.value("route")); err != nil {
				l.at("route").Fault = capital(sentence(err.Error()))
			} else {
				v.Route = route.Key
			}
		}
		v.Started = f.day(l.at("started"), true)
		v.SetOut = f.day(l.at("setout"), false)
		g.Standing = append(g.Standing, v)
	}
}

func (f *gardenForm) buildKeeps(g *garden.Garden) {
	for _, l := range f.Keeps.Lines {
		if l.blank() {
			continue
		}
		v := garden.Keep{Class: l.value("class"), Route: l.value("route")}
		v.Place, v.FromCM, v.ToCM, v.Crop = f.buildStretch(l, g)
		if c := f.catalogue.Crop(v.Crop); c != nil && v.Route != "" {
			if _, err := c.Route(v.Route); err != nil {
				l.at("route").Fault = capital(sentence(err.Error()))
			}
		}
		v.Start = f.day(l.at("started"), false)
		g.Keeps = append(g.Keeps, v)
	}
}

func (f *gardenForm) day(fl *field, needed bool) calendar.Date {
	text := strings.TrimSpace(fl.Value)
	if text == "" && !needed {
		return noDay
	}
	d, err := calendar.Parse(text)
	switch {
	case text == "":
		fl.Fault = "Write the day here, such as 2027-03-20."
	case err != nil:
		fl.Fault = capital(sentence(err.Error()))
	}
	return d
}

func (f *gardenForm) buildWeather(g, before *garden.Garden) {
	switch {
	case f.Weather == keepRecord && before != nil:
		g.WeatherRef = before.WeatherRef
	case f.Weather == sendRecord && f.Upload != nil:
		g.WeatherRef = f.Upload.ref()
	case f.Weather == sendRecord && f.WeatherFault == "":
		f.WeatherFault = "Choose the file of the record, or take the estimate."
	case f.Weather == builtIn, f.Weather == estimated:
		g.WeatherRef = f.Weather
	case f.WeatherFault == "":
		f.WeatherFault = "Say which weather to grow through."
	}
	if f.Weather == sendRecord && !f.Kept && f.WeatherFault == "" {
		f.WeatherFault = "This garden is only shown, not kept, and can hold no record. Start haulm serve with a garden file of your own."
	}
}

// faults lists what is wrong, in the order of the page.
func (f *gardenForm) faults() []faultLink {
	var out []faultLink
	add := func(fl field, where string) {
		if fl.Fault != "" {
			out = append(out, faultLink{"#" + fl.ID, where + fl.Label, fl.Fault})
		}
	}
	for _, fl := range []field{f.Name, f.Lat, f.Lon, f.Elev, f.Soil} {
		add(fl, "")
	}
	if f.WeatherFault != "" {
		out = append(out, faultLink{"#record", "Weather", f.WeatherFault})
	}
	for _, fl := range []field{f.People, f.Portions, f.Minutes, f.Trays, f.Experience, f.Units} {
		add(fl, "")
	}
	for _, list := range f.all() {
		for _, l := range list.Lines {
			for _, fl := range l.Fields {
				where := ""
				if l.Legend != "" {
					where = fmt.Sprintf("%s %d, ", l.Legend, l.No)
				}
				add(fl, where)
			}
		}
	}
	return out
}
