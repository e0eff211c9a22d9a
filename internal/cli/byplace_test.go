package cli

import (
	"encoding/json"
	"strings"
	"testing"
)

// TestFrostByPlace: a name is enough, and what comes says that it is estimated
// and who made the place's figures.
func TestFrostByPlace(t *testing.T) {
	got := haulm("frost", "--place", "Kilkenny")
	for _, want := range []string{"Kilkenny, County Kilkenny, Ireland: 52.65, -7.25, 48 m", "estimated, not measured", "CRU CL 2.0", "GeoNames"} {
		if got.code != 0 || !strings.Contains(got.out, want) {
			t.Errorf("lacks %q: %+v", want, got)
		}
	}
	var answer struct {
		Place struct {
			Name   string  `json:"name"`
			LatDeg float64 `json:"lat"`
		} `json:"place"`
		Attribution string `json:"place_attribution"`
		Estimated   bool   `json:"estimated"`
		Years       int    `json:"years"`
	}
	if err := json.Unmarshal([]byte(haulm("frost", "--place", "Kilkenny", "--json").out), &answer); err != nil {
		t.Fatal(err)
	}
	if answer.Place.Name != "Kilkenny" || !answer.Estimated || answer.Years < 30 || !strings.Contains(answer.Attribution, "CC BY 4.0") {
		t.Errorf("%+v", answer)
	}
	if plain := haulm("frost", "--lat", "52.65", "--lon", "-7.25", "--json"); strings.Contains(plain.out, `"place"`) {
		t.Errorf("a place that was not named is told: %s", plain.out)
	}
}

func TestGrowByPlace(t *testing.T) {
	got := haulm("grow", "--crop", "courgette", "--start", "05-12", "--place", "Ithaca, NY")
	if got.code != 0 || !strings.Contains(got.out, "Ithaca, New York, United States") || !strings.Contains(got.out, "weather estimated, not measured") {
		t.Errorf("%+v", got)
	}
	text := haulm("grow", "--crop", "courgette", "--start", "05-12", "--place", "Ithaca, NY", "--json").out
	var answer struct {
		Place     struct{ Name string } `json:"place"`
		Estimated bool                  `json:"estimated"`
	}
	if err := json.Unmarshal([]byte(text), &answer); err != nil || answer.Place.Name != "Ithaca" || !answer.Estimated {
		t.Errorf("%+v, %v", answer, err)
	}
}

// TestWhichPlace: a name that many places bear, or none, is one clear error.
func TestWhichPlace(t *testing.T) {
	for _, c := range []struct {
		args []string
		want []string
	}{
		{[]string{"frost", "--place", "Springfield"}, []string{"several places", `"Springfield, Massachusetts" (United States)`, `"Springfield, Illinois"`, "region or country after a comma"}},
		{[]string{"grow", "--crop", "pea", "--start", "03-20", "--place", "Cambridge"}, []string{"several places", "Cambridgeshire", "Ontario"}},
		{[]string{"frost", "--place", "Dubln"}, []string{"no place called", "Dublin, County Dublin, Ireland"}},
		{[]string{"frost", "--place", "Dublin", "--lat", "53"}, []string{"either --place or --lat and --lon"}},
	} {
		got := haulm(c.args...)
		if got.code != 2 || got.out != "" || strings.Count(got.err, "\n") > 1 {
			t.Errorf("%v: %+v", c.args, got)
		}
		for _, want := range c.want {
			if !strings.Contains(got.err, want) {
				t.Errorf("%v: %q lacks %q", c.args, got.err, want)
			}
		}
	}
}
