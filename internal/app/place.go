package app

import (
	"fmt"
	"sync"

	"haulm/internal/place"
)

// Atlas finds places by name. It unpacks its table on first use.
type Atlas struct {
	once      sync.Once
	gazetteer *place.Gazetteer
	err       error
}

// PlaceAnswer is one place found.
type PlaceAnswer struct {
	Name          string  `json:"name"`
	Spelling      string  `json:"found_as,omitempty"` // the other name by which it was found
	Region        string  `json:"region,omitempty"`
	Country       string  `json:"country"`
	CountryCode   string  `json:"country_code"`
	LatDeg        float64 `json:"lat"`
	LonDeg        float64 `json:"lon"`
	ElevM         float64 `json:"elev_m"`
	ElevEstimated bool    `json:"elev_estimated,omitempty"`
	Zone          string  `json:"zone"`
}

// FullName is the place with its region and country.
func (p PlaceAnswer) FullName() string {
	if p.Country == "" {
		return p.Name
	}
	return place.Place{Name: p.Name, Region: p.Region, Country: p.Country}.String()
}

// PlaceAttribution is to be shown beside a place.
const PlaceAttribution = place.Attribution

// PlacesAnswer is what was found, best first, with who made the figures.
type PlacesAnswer struct {
	Places      []PlaceAnswer `json:"places"`
	Attribution string        `json:"attribution"`
}

// Find looks a place up by name, with its country or region after a comma, or
// by plain coordinates. An unknown name is an error that names the nearest.
func (a *Atlas) Find(query string, limit int) (*PlacesAnswer, error) {
	gazetteer, err := a.open()
	if err != nil {
		return nil, err
	}
	answer := &PlacesAnswer{Attribution: place.Attribution}
	if lat, lon, ok := place.ParseCoordinates(query); ok {
		for _, near := range gazetteer.Nearest(lat, lon, 1) {
			found := placeAnswer(near.Place, "")
			found.Name = fmt.Sprintf("%.0f km from %s", near.KM, found.Name)
			found.LatDeg, found.LonDeg, found.ElevEstimated = lat, lon, true
			answer.Places = append(answer.Places, found)
		}
		return answer, nil
	}
	matches := gazetteer.Find(query, limit)
	if len(matches) == 0 {
		_, err := gazetteer.One(query)
		return nil, err
	}
	for _, m := range matches {
		answer.Places = append(answer.Places, placeAnswer(m.Place, m.Spelling))
	}
	return answer, nil
}

func (a *Atlas) open() (*place.Gazetteer, error) {
	a.once.Do(func() { a.gazetteer, a.err = place.Load() })
	return a.gazetteer, a.err
}

func placeAnswer(p place.Place, spelling string) PlaceAnswer {
	return PlaceAnswer{
		Name: p.Name, Spelling: spelling, Region: p.Region, Country: p.Country, CountryCode: p.CountryCode,
		LatDeg: p.LatDeg, LonDeg: p.LonDeg, ElevM: p.ElevM, ElevEstimated: p.ElevEstimated, Zone: p.Zone,
	}
}
