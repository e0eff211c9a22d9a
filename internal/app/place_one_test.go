package app

import (
	"errors"
	"math"
	"strings"
	"testing"

	"haulm/internal/place"
)

// TestAtlasOne: a name that one place bears is enough, one that many bear is
// not, and what the choices say to type means what they say.
func TestAtlasOne(t *testing.T) {
	var atlas Atlas
	for query, want := range map[string]string{
		"Kilkenny":         "Kilkenny, County Kilkenny, Ireland",
		"Dublin":           "Dublin, County Dublin, Ireland", // fifteen times the next
		"Ithaca, NY":       "Ithaca, New York, United States",
		"Ithaca, New York": "Ithaca, New York, United States",
	} {
		got, err := atlas.One(query)
		if err != nil || got.FullName() != want {
			t.Errorf("%s: %q, %v", query, got.FullName(), err)
		}
	}
	for _, query := range []string{"Springfield", "Cambridge", "Richmond"} {
		_, err := atlas.One(query)
		var many *AmbiguousError
		if !errors.As(err, &many) || len(many.Choices) < 2 {
			t.Errorf("%s: %v", query, err)
			continue
		}
		for i, say := range many.Say {
			if !strings.Contains(err.Error(), say) {
				t.Errorf("%s: %q is not among what may be said: %v", query, say, err)
			}
			got, err := atlas.One(say)
			if err != nil || math.Abs(got.LatDeg-many.Choices[i].LatDeg) > 0.001 || math.Abs(got.LonDeg-many.Choices[i].LonDeg) > 0.001 {
				t.Errorf("%s: %q means %v, %v, not %v", query, say, got, err, many.Choices[i])
			}
		}
	}
	var unknown *place.UnknownError
	if _, err := atlas.One("Dubln"); !errors.As(err, &unknown) || !strings.Contains(err.Error(), "Dublin, County Dublin, Ireland") {
		t.Errorf("a slip: %v", err)
	}
	if got, err := atlas.One("53.4 -6.3"); err != nil || got.LatDeg != 53.4 || got.LonDeg != -6.3 || got.ElevM < 1 || got.ElevM > 200 {
		t.Errorf("coordinates: %+v, %v", got, err)
	}
}
