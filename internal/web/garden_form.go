package web

import (
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"haulm/internal/app"
	"haulm/internal/crop"
	"haulm/internal/garden"
	"haulm/internal/kitchen"
	"haulm/internal/normals"
	"haulm/internal/readings"
	"haulm/internal/soil"
)

// gardenForm is the whole garden as a form: what was typed, kept as typed.
type gardenForm struct {
	First bool // the first run: nothing is kept yet
	Kept  bool // changes are written to a file

	Name, Lat, Lon, Elev                       field
	Where                                      whereForm
	People, Portions, Minutes, Trays           field
	Experience, Units, Soil                    field
	Weather                                    string // keep, upload, or a built-in's reference
	WeatherNow                                 string // what the garden has now
	WeatherFault                               string
	Basis, BasisDoubt                          string // what a first estimate would rest on here
	Upload                                     *upload
	Places, Wants, Grown, Stands, Locks, Keeps lines
	Crops, Dishes                              []choice
	Textures                                   []soil.Texture
	Faults                                     []faultLink
	Typed                                      string // imperial: the figures stand in feet and inches
	catalogue                                  *crop.Catalogue
}

// faultLink leads from the list of faults to the field.
type faultLink struct{ Href, Label, Text string }

// The weather that comes with Haulm: made-up years for the garden's own place,
// or those of one mild place.
const (
	estimated = app.EstimateRef
	builtIn   = "built-in:" + normals.MildMaritime
)

// keep and sent are the two other choices of weather.
const (
	keepRecord = "keep"
	sendRecord = "upload"
)

// weatherWords says which weather a garden has.
func weatherWords(ref string) string {
	switch ref {
	case estimated:
		return "the first estimate for this place"
	case builtIn:
		return "the made-up years of one mild, maritime place"
	}
	return "the record “" + ref + "”"
}

// newGardenForm is an empty form with its sensible first answers.
func newGardenForm(catalogue *crop.Catalogue, kept bool) *gardenForm {
	f := &gardenForm{First: true, Kept: kept, catalogue: catalogue, Weather: estimated}
	f.Where = newWhereForm()
	f.Dishes = dishChoices(catalogue.Crops())
	for _, c := range catalogue.Crops() {
		f.Crops = append(f.Crops, choice{c.Name, c.Name, false})
	}
	f.fields()
	f.lists()
	return f
}

func (f *gardenForm) fields() {
	set := func(into *field, name, label, kind, unit, hint, value string) {
		*into = field{Name: name, ID: name, Label: label, Kind: kind, Unit: unit, Hint: hint, Value: value}
	}
	set(&f.Name, "name", "Name of the garden", "text", "", "", "")
	set(&f.Lat, "latitude", "Latitude", "text", "°", "north of the equator positive: 53.4, or 53.4 N", "")
	set(&f.Lon, "longitude", "Longitude", "text", "°", "east of Greenwich positive: −6.3, or 6.3 W", "")
	set(&f.Elev, "elevation", "Height above the sea", "number", "m", "", "")
	set(&f.People, "people", "People at table", "number", "", "", "2")
	set(&f.Portions, "portions", "Portions from the garden", "number", "a person and day", "a portion is about 80 g, ready to eat", "1.5")
	set(&f.Minutes, "minutes", "Time for the garden", "number", "minutes a week", "", "180")
	set(&f.Trays, "trays", "Room to raise plants indoors", "number", "trays of 40 cells", "on a bright sill or bench, at one time", "2")
	for into, such := range map[*field]string{&f.Lat: "53.4", &f.Lon: "−6.3", &f.Elev: "60", &f.People: "2", &f.Portions: "1.5", &f.Minutes: "180", &f.Trays: "2"} {
		into.Such = such
	}
	f.Experience = field{Name: "experience", ID: "experience", Label: "Years of gardening", Kind: "select", Options: []choice{
		{"new", "new to it", false}, {"some", "a few years", false}, {"long", "many years", false}}}.with("some")
	f.Textures = soil.Textures()
	f.Soil = field{Name: "soil", ID: "soil", Label: "Soil", Kind: "select", Hint: "watering goes by it", Options: soilChoices("not known: loam is taken")}
	f.Units = field{Name: "units", ID: "units", Label: "Measures shown", Kind: "select", Options: []choice{
		{"metric", "metric", false}, {"imperial", "feet, pounds and °F", false}}}.with("metric")
}

// lists sets up what comes line by line.
func (f *gardenForm) lists() {
	number := func(name, label, unit, such string) field {
		return field{Name: name, Label: label, Kind: "number", Unit: unit, Such: such}
	}
	text := func(name, label, list string) field {
		return field{Name: name, Label: label, Kind: "text", List: list}
	}
	f.Places = lines{Key: "place", Legend: "Place", Add: "Add a place", Proto: []field{
		text("name", "Name", ""),
		{Name: "kind", Label: "Kind", Kind: "select", Options: []choice{{garden.Bed, "bed", false}, {garden.Border, "wall border", false}, {garden.Covered, "covered", false}, {garden.Pots, "pots", false}}},
		number("length", "Length", "m", "6"), number("width", "Width", "m", "1.2"), number("pots", "Pots", "", "4"), number("litres", "Each pot", "litres", "20"),
		number("sun", "Direct sun", "h a day", "6.5"),
		{Name: "cover", Label: "Cover", Kind: "select", Options: []choice{{"", "none", false}, {"fleece", "fleece", false}, {"cloche", "cloche", false}, {"frame", "frame", false}, {"tunnel", "tunnel", false}, {"greenhouse", "greenhouse", false}}},
		{Name: "runs", Label: "Runs to", Kind: "select", Options: pointChoices()},
		{Name: "soil", Label: "Soil", Kind: "select", Options: soilChoices("the garden’s")},
		{Name: "water", Label: "Water", Kind: "select", Options: []choice{{"", "watered when dry", false}, {rainOnly, "rain only", false}}},
		{Name: "was", Kind: "hidden"},
	}}
	f.Wants = lines{Key: "want", Proto: []field{{Name: "dish", Kind: "hidden"}, number("portions", "Portions a week", "", "2.5"), number("liking", "Liking", "", "1")}}
	stretchOf := []field{text("place", "Place", "place-names"), number("from", "From", "cm", "0"), number("to", "To", "cm", "120"), text("crop", "Crop", "crop-names")}
	f.Grown = lines{Key: "grown", Legend: "Grew here", Add: "Add what grew before", Proto: append(slices.Clone(stretchOf), number("year", "Year", "", "2026"))}
	f.Stands = lines{Key: "standing", Legend: "Stands now", Add: "Add what stands now", Proto: append(slices.Clone(stretchOf),
		text("route", "Raised (blank: the usual way)", ""),
		field{Name: "class", Label: "Kind", Kind: "select", Options: []choice{{"mid", "middling", false}, {"early", "early", false}, {"late", "late", false}}},
		field{Name: "started", Label: "Sown or planted", Kind: "date"}, field{Name: "setout", Label: "Set out, if raised", Kind: "date"})}
	f.Locks = lines{Key: "lock", Legend: "Never", Add: "Add a ban", Proto: []field{
		{Name: "dish", Label: "Dish", Kind: "select", Options: f.Dishes}, text("place", "In this place only (blank: nowhere at all)", "place-names")}}
	f.Keeps = lines{Key: "keep", Legend: "Always", Add: "Add what to keep", Proto: append(slices.Clone(stretchOf),
		text("route", "Raised (blank: as it does best)", ""),
		field{Name: "class", Label: "Kind", Kind: "select", Options: []choice{{"", "any", false}, {"mid", "middling", false}, {"early", "early", false}, {"late", "late", false}}},
		field{Name: "started", Label: "Begun on (blank: every year)", Kind: "date"})}
}

// rainOnly is the choice of water for a place that nobody waters.
const rainOnly = "rain"

// pointChoices lists the compass points.
func pointChoices() []choice {
	var out []choice
	for _, point := range garden.Points() {
		name := point
		if point == "" {
			name = "not said"
		}
		out = append(out, choice{point, name, false})
	}
	return out
}

// soilChoices lists the textures of ground by name: how each feels stands beside
// the choice, where there is room for it.
func soilChoices(unsaid string) []choice {
	out := []choice{{"", unsaid, false}}
	for _, t := range soil.Textures() {
		out = append(out, choice{t.Name, t.Name, false})
	}
	return out
}

// dishChoices lists every dish of the crops by name.
func dishChoices(crops []*crop.Crop) []choice {
	seen := map[string]bool{}
	var out []choice
	for _, c := range crops {
		if !seen[c.Dish] {
			seen[c.Dish] = true
			out = append(out, choice{c.Dish, dishName(c.Dish), false})
		}
	}
	slices.SortFunc(out, func(a, b choice) int { return strings.Compare(a.Name, b.Name) })
	return out
}

func plain(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// firstForm is the form of the first run: one bed, and a table for two.
func firstForm(catalogue *crop.Catalogue, kept bool) *gardenForm {
	f := newGardenForm(catalogue, kept)
	f.Places.add(nil)
	f.fillWants(kitchen.DefaultWants(dishKeys(f.Dishes), 2))
	return f
}

func dishKeys(dishes []choice) []string {
	keys := make([]string, len(dishes))
	for i, d := range dishes {
		keys[i] = d.Value
	}
	return keys
}

// fillWants lists every dish, those wanted with their figures.
func (f *gardenForm) fillWants(wants []garden.Want) {
	f.Wants.Lines = nil
	for _, dish := range f.Dishes {
		want := garden.Want{Dish: dish.Value, Liking: 1}
		if i := slices.IndexFunc(wants, func(w garden.Want) bool { return w.Dish == dish.Value }); i >= 0 {
			want = wants[i]
		}
		f.Wants.add(map[string]string{"dish": want.Dish, "portions": plain(want.PortionsPerWeek), "liking": plain(want.Liking)})
	}
	f.nameWants()
}

func (f *gardenForm) nameWants() {
	for _, l := range f.Wants.Lines {
		l.at("dish").Words = dishName(l.value("dish"))
		l.at("portions").Label = dishName(l.value("dish")) + ": portions a week"
		l.at("liking").Label = dishName(l.value("dish")) + ": liking"
	}
}

// formOf is a garden filled into the form.
func formOf(g *garden.Garden, catalogue *crop.Catalogue, kept bool) *gardenForm {
	f := newGardenForm(catalogue, kept)
	f.First, f.Weather, f.WeatherNow = false, keepRecord, weatherWords(g.WeatherRef)
	f.Name.Value, f.Lat.Value, f.Lon.Value, f.Elev.Value = g.Name, plain(g.Site.LatDeg), plain(g.Site.LonDeg), plain(g.Site.ElevM)
	h := g.Household
	f.People.Value, f.Portions.Value = strconv.Itoa(h.People), plain(h.PortionsPerDay)
	f.Minutes.Value, f.Trays.Value = plain(h.MinutesPerWeek), plain(h.IndoorTrays)
	f.Experience, f.Soil = f.Experience.with(h.Experience), f.Soil.with(g.Soil)
	if h.Imperial {
		f.Units = f.Units.with("imperial")
	}
	for _, p := range g.Places {
		f.Places.add(placeValues(p))
	}
	f.fillWants(g.Wants)
	for _, v := range g.History {
		f.Grown.add(map[string]string{"place": v.Place, "from": strconv.Itoa(v.FromCM), "to": strconv.Itoa(v.ToCM), "crop": f.cropName(v.Crop), "year": strconv.Itoa(v.Year)})
	}
	for _, v := range g.Standing {
		f.Stands.add(map[string]string{"place": v.Place, "from": strconv.Itoa(v.FromCM), "to": strconv.Itoa(v.ToCM), "crop": f.cropName(v.Crop),
			"route": v.Route, "class": v.Class, "started": v.Started.String(), "setout": v.SetOut.String()})
	}
	for _, v := range g.Keeps {
		f.Keeps.add(map[string]string{"place": v.Place, "from": strconv.Itoa(v.FromCM), "to": strconv.Itoa(v.ToCM), "crop": f.cropName(v.Crop),
			"route": v.Route, "class": v.Class, "started": v.Start.String()})
	}
	for _, v := range g.Locks {
		f.Locks.add(map[string]string{"dish": v.Dish, "place": v.Place})
	}
	return f
}

func placeValues(p garden.Place) map[string]string {
	v := map[string]string{"name": p.Name, "was": p.Name, "kind": p.Kind, "sun": plain(p.SunHours), "cover": p.Cover, "soil": p.Soil, "runs": p.RunsTo}
	if p.RainFed {
		v["water"] = rainOnly
	}
	if p.Kind == garden.Pots {
		v["pots"], v["litres"] = strconv.Itoa(p.Pots), plain(p.Litres)
	} else {
		v["length"], v["width"] = plain(p.LengthM), plain(p.WidthM)
	}
	return v
}

func (f *gardenForm) cropName(key string) string {
	if c := f.catalogue.Crop(key); c != nil {
		return c.Name
	}
	return key
}

// read takes in a form that was sent, and does what its button asks: find the place,
// add or drop a line, set the portions anew. It reports whether it is to be saved.
func (f *gardenForm) read(r *http.Request, uploads *uploads, atlas *app.Atlas, today readings.Options) (save bool) {
	form := r.Form
	for _, fl := range []*field{&f.Name, &f.Lat, &f.Lon, &f.Elev, &f.People, &f.Portions, &f.Minutes, &f.Trays, &f.Experience, &f.Units, &f.Soil} {
		*fl = fl.with(form.Get(fl.Name))
	}
	f.Weather = form.Get("weather")
	for _, l := range f.all() {
		l.read(form)
	}
	f.nameWants()
	f.Typed = form.Get("typed")
	f.takeMeasures()
	f.takeRecord(r, uploads, today)
	again := f.findPlace(form, atlas)
	save = f.deed(form) && !again
	if !save {
		f.tellBasis()
	}
	return save
}

func (f *gardenForm) all() []*lines {
	return []*lines{&f.Places, &f.Wants, &f.Grown, &f.Stands, &f.Locks, &f.Keeps}
}

func (f *gardenForm) deed(form url.Values) (save bool) {
	verb, rest, _ := strings.Cut(form.Get("do"), " ")
	key, no, _ := strings.Cut(rest, " ")
	for _, l := range f.all() {
		switch n, err := strconv.Atoi(no); {
		case l.Key != key:
		case verb == "add":
			l.add(nil)
		case verb == "drop" && err == nil:
			l.drop(n)
		}
	}
	if verb == "portions" {
		people := 2
		if n, ok := f.People.whole(); ok && n > 0 {
			people = n
		}
		f.fillWants(kitchen.DefaultWants(dishKeys(f.Dishes), people))
	}
	return verb == "save" || verb == ""
}
