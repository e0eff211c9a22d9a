package web

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"reflect"
	"strings"
	"testing"

	"haulm/internal/app"
	"haulm/internal/calendar"
	"haulm/internal/garden"
	"haulm/internal/readings"
)

// A garden shown in feet and inches comes back as it was, to the centimetre.
func TestTheFormInFeetChangesNothingOfItself(t *testing.T) {
	g := garden.Demo()
	g.Household.Imperial = true
	f := formOf(g, catalogue(), true)
	f.showMeasures()
	if got := f.Places.Lines[0].value("length"); got != "23.62" || f.Places.Lines[0].at("length").Unit != "ft" { // 7.2 m
		t.Errorf("7.2 m are shown as %s %s", got, f.Places.Lines[0].at("length").Unit)
	}
	if got := f.Grown.Lines[0].value("to"); got != "118.1" { // 300 cm
		t.Errorf("300 cm are shown as %s in", got)
	}
	form := formValues(f)
	form.Set("typed", f.Typed)
	again := newGardenForm(catalogue(), true)
	r := httptest.NewRequest(http.MethodPost, "/garden", strings.NewReader(form.Encode()))
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
	if got, want := fmt.Sprint(built.Places, built.History, built.Standing, built.Site), fmt.Sprint(g.Places, g.History, g.Standing, g.Site); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// Every length from 5 cm to 60 m that a bed or a stretch can have survives
// being shown in feet or inches.
func TestMeasuresThereAndBack(t *testing.T) {
	for cm := 5; cm <= 6000; cm++ {
		for _, c := range []struct {
			m     measure
			value string
		}{{lengthMeasure, plain(float64(cm) / 100)}, {stretchMeasure, plain(float64(cm))}} {
			f := field{Value: c.value}
			f.convert(c.m.toImperial, c.m.shown)
			shown := f.Value
			f.convert(c.m.toMine, c.m.kept)
			if f.Value != c.value {
				t.Fatalf("%s %s is shown as %s %s and comes back as %s", c.value, c.m.metric, shown, c.m.imperial, f.Value)
			}
		}
	}
	f := field{Value: "four"}
	if f.convert(lengthMeasure.toMine, 2); !reflect.DeepEqual(f, field{Value: "four"}) {
		t.Errorf("what is no figure became %+v", f)
	}
}
