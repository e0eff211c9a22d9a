package web

import (
	"bytes"
	"context"
	"fmt"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"haulm/internal/app"
	"haulm/internal/calendar"
	"haulm/internal/garden"
	"haulm/internal/readings"
	"haulm/internal/store"
)

// keptDesk is a desk on a new garden file.
func keptDesk(t *testing.T) *app.Desk {
	t.Helper()
	file, err := store.Create(filepath.Join(t.TempDir(), "garden.haulm"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = file.Close() })
	desk, err := app.OpenDesk(context.Background(), file, catalogue(), today)
	if err != nil {
		t.Fatal(err)
	}
	return desk
}

// post sends a form as a browser without script does.
func post(t testing.TB, pages *Pages, address string, form url.Values) *httptest.ResponseRecorder {
	t.Helper()
	r := httptest.NewRequest(http.MethodPost, address, strings.NewReader(form.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return send(pages, r)
}

func send(pages *Pages, r *http.Request) *httptest.ResponseRecorder {
	r.Host = "localhost:8080"
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	w := httptest.NewRecorder()
	pages.ServeHTTP(w, r)
	return w
}

// postFile sends a form with a file under a field's name; without a name of its
// own the form comes with no file chosen.
func postFile(t testing.TB, pages *Pages, address string, form url.Values, field, name, content string) *httptest.ResponseRecorder {
	t.Helper()
	var body bytes.Buffer
	m := multipart.NewWriter(&body)
	for key, values := range form {
		for _, v := range values {
			if err := m.WriteField(key, v); err != nil {
				t.Fatal(err)
			}
		}
	}
	if name != "" {
		part, err := m.CreateFormFile(field, name)
		if err != nil {
			t.Fatal(err)
		}
		_, _ = part.Write([]byte(content))
	}
	_ = m.Close()
	r := httptest.NewRequest(http.MethodPost, address, &body)
	r.Header.Set("Content-Type", m.FormDataContentType())
	return send(pages, r)
}

// goodForm is a first run with nothing wrong.
func goodForm() url.Values {
	return url.Values{
		"do": {"save"}, "name": {"Hill plot"}, "latitude": {"53.4 N"}, "longitude": {"6,3 W"}, "elevation": {"60"}, "weather": {builtIn},
		"people": {"3"}, "portions": {"1.5"}, "minutes": {"200"}, "trays": {"4"}, "experience": {"some"}, "units": {"metric"},
		"place.name": {"South bed", "Yard pots", ""}, "place.kind": {"bed", "pots", "bed"}, "place.length": {"4", "", ""},
		"place.width": {"1.2", "", ""}, "place.sun": {"7", "6", ""}, "place.cover": {"", "", ""}, "place.pots": {"", "5", ""},
		"place.litres": {"", "30", ""}, "place.was": {"", "", ""},
		"want.dish": {"carrots", "leeks"}, "want.portions": {"5", "0"}, "want.liking": {"1.2", "1"},
	}
}

func TestFirstRunMakesTheGarden(t *testing.T) {
	desk := keptDesk(t)
	pages, _ := site(t, desk)
	if w := get(t, pages, "/"); w.Code != http.StatusOK || !strings.Contains(w.Body.String(), "A new garden") {
		t.Fatalf("the first page: %d", w.Code)
	}
	w := post(t, pages, "/garden/new", goodForm())
	if w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/garden/ready" {
		t.Fatalf("status %d to %q:\n%s", w.Code, w.Header().Get("Location"), faultsIn(w))
	}
	g, err := desk.Garden()
	if err != nil {
		t.Fatal(err)
	}
	if g.Name != "Hill plot" || g.Site.LatDeg != 53.4 || g.Site.LonDeg != -6.3 || len(g.Places) != 2 || g.Places[1].Pots != 5 || len(g.Wants) != 1 {
		t.Errorf("the garden came out as %+v", g)
	}
	if w := get(t, pages, "/garden/ready"); !strings.Contains(w.Body.String(), "estimated, not measured") {
		t.Error("the page after does not say that the weather is estimated")
	}
	if w := get(t, pages, "/"); w.Header().Get("Location") != "/plan" {
		t.Errorf("with a garden the first page leads to %q", w.Header().Get("Location"))
	}
}

var faultMark = regexp.MustCompile(`<p class="fault" id="([^"]*)-fault">([^<]*)`)

func faultsIn(w *httptest.ResponseRecorder) string {
	var out []string
	for _, m := range faultMark.FindAllStringSubmatch(w.Body.String(), -1) {
		out = append(out, m[1]+": "+m[2])
	}
	return strings.Join(out, "\n")
}

func TestEveryBadFieldIsFaultedAndKept(t *testing.T) {
	pages, _ := site(t, keptDesk(t))
	for _, c := range []struct {
		field string // as the form calls it
		line  int
		typed string
		id    string // of the field that must be faulted
		says  string
	}{
		{"name", 0, "", "name", "no name"},
		{"latitude", 0, "my house n", "latitude", "&#34;my house n&#34; is not a number; write one such as 53.4."}, // in the letters typed
		{"latitude", 0, "91", "latitude", "-90 to 90"},
		{"longitude", 0, "", "longitude", "Write a number here, such as −6.3."},
		{"longitude", 0, "200", "longitude", "-180 to 180"},
		{"elevation", 0, "9000", "elevation", "6000"},
		{"people", 0, "2.5", "people", "not a whole number; write one such as 2."},
		{"people", 0, "0", "people", "from 1"},
		{"portions", 0, "-1", "portions", "from 0"},
		{"minutes", 0, "much", "minutes", "not a number; write one such as 180."},
		{"trays", 0, "1e9", "trays", "from 0"},
		{"experience", 0, "ages", "experience", "not known"},
		{"weather", 0, "", "record", "Say which weather"},
		{"weather", 0, "upload", "record", "Choose the file"},
		{"place.name", 0, "", "place-1-name", "no name"},
		{"place.name", 0, "yard pots", "place-2-name", "Another place"},
		{"place.kind", 0, "roof", "place-1-kind", "not known"},
		{"place.length", 0, "400", "place-1-length", "from 0.3 to 100 m"},
		{"place.width", 0, "120 cm", "place-1-width", "not a number; write one such as 1.2."},
		{"place.sun", 0, "30", "place-1-sun", "from 0 to 24"},
		{"place.cover", 0, "glass", "place-1-cover", "not known"},
		{"place.pots", 1, "0", "place-2-pots", "number of pots"},
		{"place.litres", 1, "1000", "place-2-litres", "bed"},
		{"want.portions", 0, "lots", "want-1-portions", "not a number; write one such as 2.5."},
		{"want.liking", 0, "5", "want-1-liking", "from 0 to 2"},
	} {
		form := goodForm()
		form[c.field][c.line] = c.typed
		w := post(t, pages, "/garden/new", form)
		if w.Code != http.StatusUnprocessableEntity {
			t.Errorf("%s = %q: status %d, want 422", c.field, c.typed, w.Code)
			continue
		}
		faults := faultsIn(w)
		if !strings.Contains(faults, c.id+": ") || !strings.Contains(faults, c.says) {
			t.Errorf("%s = %q: want a fault at %s with %q, got:\n%s", c.field, c.typed, c.id, c.says, faults)
		}
		for _, kept := range []string{`value="Yard pots"`, `value="6,3 W"`, `value="200"`} {
			lost := map[string]string{"longitude": `value="6,3 W"`, "minutes": `value="200"`}[c.field]
			if kept != lost && !strings.Contains(w.Body.String(), kept) {
				t.Errorf("%s = %q: %s was not kept", c.field, c.typed, kept)
			}
		}
	}
	if _, err := pages.desk.Garden(); err == nil {
		t.Error("a garden was kept although every form was wrong")
	}
}

func TestSeveralFaultsAtOnce(t *testing.T) {
	pages, _ := site(t, keptDesk(t))
	form := goodForm()
	form.Set("latitude", "x")
	form["place.length"][0] = "y"
	w := post(t, pages, "/garden/new", form)
	if !strings.Contains(w.Body.String(), "2 things to put right") || !strings.Contains(w.Body.String(), `href="#place-1-length"`) {
		t.Errorf("both faults should be listed with links:\n%s", faultsIn(w))
	}
}

func TestLinesComeAndGoWithoutScript(t *testing.T) {
	pages, _ := site(t, keptDesk(t))
	form := goodForm()
	form.Set("do", "add place")
	form.Set("latitude", "not yet")
	w := post(t, pages, "/garden/new", form)
	if w.Code != http.StatusOK || strings.Count(w.Body.String(), `name="place.name"`) != 5 || faultsIn(w) != "" {
		t.Errorf("adding: status %d, %d lines (with the blank), faults %q", w.Code, strings.Count(w.Body.String(), `name="place.name"`), faultsIn(w))
	}
	form.Set("do", "drop place 1")
	w = post(t, pages, "/garden/new", form)
	if strings.Contains(w.Body.String(), `value="South bed"`) || !strings.Contains(w.Body.String(), `value="Yard pots"`) {
		t.Error("dropping line 1 should take out the South bed and nothing else")
	}
	form.Set("do", "portions")
	form.Set("people", "4")
	w = post(t, pages, "/garden/new", form)
	if !strings.Contains(w.Body.String(), `value="not yet"`) {
		t.Error("setting the usual portions lost what was typed")
	}
	form.Set("do", "add standing")
	if w := post(t, pages, "/garden/new", form); !strings.Contains(w.Body.String(), `id="standing-1-crop"`) {
		t.Error("no line for what stands was added")
	}
}

// twentyYears is a plain record that gives its place: mild, with one bad line.
func twentyYears(from int) string {
	var b strings.Builder
	b.WriteString("# lat: 52.1\n# lon: -1.5\n# elev_m: 40\ndate,tmin_c,tmax_c,rain_mm\n")
	for d := calendar.On(from, 1, 1); d < calendar.On(from+20, 1, 1); d++ {
		warm := 8 - 7*cosYear(d)
		fmt.Fprintf(&b, "%s,%.1f,%.1f,2\n", d, warm-4, warm+4)
	}
	b.WriteString("not a day,1,2,3\n")
	return b.String()
}

func cosYear(d calendar.Date) float64 {
	x := float64(d.YearDay()) / 365.25 // a parabola is near enough to a year's swing
	return 1 - 16*x*(1-x)*0.5
}

func TestARecordIsReadKeptAndReported(t *testing.T) {
	desk := keptDesk(t)
	pages, _ := site(t, desk)
	form := goodForm()
	form.Set("weather", "upload")
	form.Set("latitude", "")
	form.Set("longitude", "")
	form["place.sun"][0] = "40" // a fault elsewhere must not lose the file
	w := postFile(t, pages, "/garden/new", form, "record", "hill.csv", twentyYears(2000))
	if w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "Read and held: hill.csv") {
		t.Fatalf("status %d, faults %s", w.Code, faultsIn(w))
	}
	if !strings.Contains(w.Body.String(), `value="52.1"`) || !strings.Contains(w.Body.String(), `value="-1.5"`) {
		t.Error("the record's own place was not filled in")
	}
	token := regexp.MustCompile(`name="record-token" value="([^"]+)"`).FindStringSubmatch(w.Body.String())
	if token == nil {
		t.Fatal("the file is not held")
	}
	form["place.sun"][0] = "7"
	form.Set("latitude", "52.1")
	form.Set("longitude", "-1.5")
	form.Set("record-token", token[1])
	if w := post(t, pages, "/garden/new", form); w.Code != http.StatusSeeOther {
		t.Fatalf("status %d, faults %s", w.Code, faultsIn(w))
	}
	if g, err := desk.Garden(); err != nil || g.WeatherRef != "hill" {
		t.Errorf("the garden's weather is %q, %v", g.WeatherRef, err)
	}
	page := get(t, pages, "/garden/ready").Body.String()
	for _, want := range []string{"7305", "1 value was refused", "plain CSV", "What was refused, by line", "7310"} {
		if !strings.Contains(page, want) {
			t.Errorf("the report does not say %q", want)
		}
	}
	if page := get(t, pages, "/weather").Body.String(); strings.Contains(page, "Estimated, not measured") || !strings.Contains(page, "Measured") {
		t.Error("the weather page should say that the record is measured")
	}
}

func TestABadRecordIsFaultedAtItsField(t *testing.T) {
	pages, _ := site(t, keptDesk(t))
	w := postFile(t, pages, "/garden/new", goodForm(), "record", "notes.csv", "date,tmin,tmax\n2020-01-01,1,2\n")
	if w.Code != http.StatusUnprocessableEntity || !strings.Contains(faultsIn(w), "record: Notes.csv") || !strings.Contains(faultsIn(w), "unit") {
		t.Errorf("status %d, faults:\n%s", w.Code, faultsIn(w))
	}
}

func TestGardenIsChangedUndoneTakenOutAndBroughtIn(t *testing.T) {
	desk := keptDesk(t)
	pages, _ := site(t, desk)
	if w := post(t, pages, "/garden/demo", nil); w.Code != http.StatusSeeOther {
		t.Fatalf("the demonstration: %d", w.Code)
	}
	out := get(t, pages, "/garden.toml")
	if out.Body.String() == "" || !strings.Contains(out.Header().Get("Content-Disposition"), "garden.toml") {
		t.Fatal("nothing was taken out")
	}
	before, _ := desk.Garden()
	form := formValues(formOf(before, catalogue(), true))
	form["place.name"][0] = "Lower bed" // what stands and stood there must move with it
	if w := post(t, pages, "/garden", form); w.Code != http.StatusSeeOther {
		t.Fatalf("changing: status %d, faults\n%s", w.Code, faultsIn(w))
	}
	after, _ := desk.Garden()
	if after.Places[0].Name != "Lower bed" || len(after.Standing) != len(before.Standing) || len(after.History) != len(before.History) {
		t.Errorf("after renaming a bed: %d standing, %d grown", len(after.Standing), len(after.History))
	}
	if w := post(t, pages, "/garden/undo", nil); w.Code != http.StatusSeeOther {
		t.Fatalf("undoing: %d", w.Code)
	}
	if g, _ := desk.Garden(); g.Places[0].Name != before.Places[0].Name {
		t.Error("the change was not undone")
	}
	text := strings.Replace(out.Body.String(), "Lowmoor Cottage", "Highmoor", 1)
	if w := post(t, pages, "/garden/import", url.Values{"text": {text}}); w.Code != http.StatusSeeOther {
		t.Fatalf("bringing in: %d %s", w.Code, faultsIn(w))
	}
	if g, _ := desk.Garden(); g.Name != "Highmoor" {
		t.Error("nothing was brought in")
	}
	w := post(t, pages, "/garden/import", url.Values{"text": {"name = \n"}})
	if w.Code != http.StatusUnprocessableEntity || !strings.Contains(faultsIn(w), "ine 1") {
		t.Errorf("bad text: status %d, faults %q", w.Code, faultsIn(w))
	}
}

// formValues is what a browser would send of a form.
func formValues(f *gardenForm) url.Values {
	v := url.Values{"do": {"save"}, "weather": {f.Weather}}
	for _, fl := range []field{f.Name, f.Lat, f.Lon, f.Elev, f.People, f.Portions, f.Minutes, f.Trays, f.Experience, f.Units} {
		value := fl.Value
		for _, o := range fl.Options {
			if o.Chosen {
				value = o.Value
			}
		}
		v.Set(fl.Name, value)
	}
	for _, l := range f.all() {
		for _, line := range l.Lines {
			for _, fl := range line.Fields {
				v.Add(fl.Name, fl.Value)
			}
		}
	}
	return v
}

func TestTheFormChangesNothingOfItself(t *testing.T) {
	g := garden.Demo()
	f := formOf(g, catalogue(), true)
	again := newGardenForm(catalogue(), true)
	r := httptest.NewRequest(http.MethodPost, "/garden", strings.NewReader(formValues(f).Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	if err := readForm(r); err != nil {
		t.Fatal(err)
	}
	if !again.read(r, newUploads(), &app.Atlas{}, readings.Options{Today: calendar.FromTime(today())}) {
		t.Fatal("not to be saved")
	}
	built, ok := again.build(g)
	if !ok {
		t.Fatalf("%+v", again.Faults)
	}
	if got, want := fmt.Sprintf("%+v %+v %+v %+v %+v", built.Places, built.History, built.Standing, built.Locks, built.Household),
		fmt.Sprintf("%+v %+v %+v %+v %+v", g.Places, g.History, g.Standing, g.Locks, g.Household); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	wanted := map[string]garden.Want{}
	for _, w := range built.Wants {
		wanted[w.Dish] = w
	}
	for _, w := range g.Wants {
		if w.PortionsPerWeek > 0 && wanted[w.Dish] != w {
			t.Errorf("want %+v came out as %+v", w, wanted[w.Dish])
		}
	}
}
