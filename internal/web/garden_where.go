package web

import (
	"fmt"
	"net/url"
	"strconv"
	"strings"

	"haulm/internal/app"
	"haulm/internal/unit"
)

// mostFound is how many places of a name are offered.
const mostFound = 8

// whereForm finds the garden's place by name. Its answer goes into the
// form's latitude, longitude and height, which remain what counts.
type whereForm struct {
	Sought field
	Done   string // the words that Sought was last found by, so that they are not looked up again
	Found  []foundPlace
	Seen   string // latitude, longitude and height as they stood when Found was shown
	Taken  string // said of the place that was taken
	Attend bool   // the page was shown again for the sake of the place
}

// foundPlace is one place to choose.
type foundPlace struct {
	Value        string // all of it, as the form sends it back
	Name, Detail string
}

func newWhereForm() whereForm {
	return whereForm{Sought: field{Name: "where", ID: "where", Label: "Where is it?",
		Hint: "a town or village, with its country or region if there are several: Newport, Wales. Coordinates will do as well: 53.4 N, 6.3 W"}}
}

// placeLine is a place in one line: "Newport, Wales, United Kingdom".
func placeLine(p app.PlaceAnswer) string {
	parts := []string{p.Name}
	for _, part := range []string{p.Region, p.Country} {
		if part != "" {
			parts = append(parts, part)
		}
	}
	return strings.Join(parts, ", ")
}

// placeDetail says how high a place lies, and by which name it was found.
func placeDetail(p app.PlaceAnswer) string {
	detail := unit.Number(p.ElevM, 0) + " m above the sea"
	if p.ElevEstimated {
		detail = "about " + detail
	}
	if p.Spelling != "" && !strings.EqualFold(p.Spelling, p.Name) {
		detail += "; also " + p.Spelling
	}
	return detail
}

// placeValue carries a place through a form: latitude, longitude, height,
// then its words.
func placeValue(p app.PlaceAnswer) string {
	return fmt.Sprintf("%s %s %s %s", plain(p.LatDeg), plain(p.LonDeg), plain(p.ElevM), placeLine(p))
}

func placesFound(answer *app.PlacesAnswer) []foundPlace {
	var out []foundPlace
	for _, p := range answer.Places {
		out = append(out, foundPlace{placeValue(p), placeLine(p), placeDetail(p)})
	}
	return out
}

// site is what the form holds of the garden's place, as typed.
func (f *gardenForm) site() string {
	return strings.Join([]string{f.Lat.Value, f.Lon.Value, f.Elev.Value}, "|")
}

// take fills in the place that was chosen.
func (f *gardenForm) take(value string) {
	parts := strings.SplitN(value, " ", 4)
	if len(parts) < 4 {
		return
	}
	for i, into := range []*field{&f.Lat, &f.Lon, &f.Elev} {
		if _, err := strconv.ParseFloat(parts[i], 64); err != nil {
			return
		}
		into.Value = parts[i]
	}
	f.Where.Sought.Value, f.Where.Done = parts[3], parts[3]
	f.Where.Taken = parts[3] + ". Its latitude, longitude and height are filled in below. A garden uphill or down the valley has its own height: put that right if you know it."
}

// findPlace does what the form asks about its place. It reports whether the
// form must be looked at again before it is kept: a name was given that the
// figures below do not come from yet.
func (f *gardenForm) findPlace(form url.Values, atlas *app.Atlas) (again bool) {
	w, do := &f.Where, form.Get("do")
	w.Sought.Value, w.Done = form.Get("where"), form.Get("where-done")
	sought, chosen := strings.TrimSpace(w.Sought.Value), form.Get("found")
	offered := form.Get("where-seen") == f.site() // figures typed since the choice was offered stand over it
	switch {
	case sought == "" && do == "find":
		w.Sought.Fault, w.Attend = "Write the name of a town or village, or coordinates such as 53.4 N, 6.3 W.", true
		return true
	case sought == "", sought == w.Done && do != "find" && !offered:
		return false
	case sought == w.Done && do != "find" && chosen != "":
		f.take(chosen)
		w.Attend = do == "take"
		return false
	}
	f.look(sought, atlas)
	w.Attend = do == "find" || do == "take" || do == "save"
	if do == "save" && w.Taken != "" {
		w.Taken += " Nothing is kept yet: look them over, then keep the garden."
	}
	if sought == form.Get("where-done") && do != "find" && w.Attend {
		w.Sought.Fault = "Choose one of the places found, or empty this field and write the figures yourself."
	}
	return true
}

// look finds the place sought and takes it, or offers those of that name.
func (f *gardenForm) look(sought string, atlas *app.Atlas) {
	w := &f.Where
	answer, err := atlas.Find(sought, mostFound)
	switch {
	case err != nil:
		w.Sought.Fault = capital(sentence(err.Error()))
	case len(answer.Places) == 1:
		f.take(placeValue(answer.Places[0]))
	default:
		w.Found, w.Done, w.Seen = placesFound(answer), sought, f.site()
	}
}

// Action is where the form is sent.
func (f *gardenForm) Action() string {
	if f.First {
		return "/garden/new"
	}
	return "/garden"
}
