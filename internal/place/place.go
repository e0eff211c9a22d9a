package place

import "strings"

//go:generate go run ./internal/generate -source ../../tmp/node_modules

// Attribution is what the licence of the figures asks to be shown wherever
// they are shown.
const Attribution = "Place names, coordinates, heights, populations and time zones: GeoNames (https://www.geonames.org), licensed under CC BY 4.0 (https://creativecommons.org/licenses/by/4.0/); shortened and repacked."

// Place is a town or village.
type Place struct {
	Name        string // as on an English map where there is an English name, else as locally spelt
	Region      string // state, province or county; "" where the country has none
	Country     string // in English
	CountryCode string // ISO 3166-1, two letters

	LatDeg float64 // north positive, to 0.001°
	LonDeg float64 // east positive, to 0.001°

	// ElevM is the ground height above the sea in metres, surveyed or from a
	// height model with a mesh of 90 m to 1 km, so in hills good to some tens of
	// metres.
	ElevM float64
	// ElevEstimated says that the height models see water here: the place stands
	// on a shore and ElevM is that of the nearest place within 20 km, or failing
	// that the median of such places.
	ElevEstimated bool

	Zone       string // IANA time zone, "Europe/Dublin"
	Population int    // people, to 4 %; 0 where it is not known
}

// String is the place with what tells it from others of its name:
// "Springfield, Illinois, United States".
func (p Place) String() string {
	parts := []string{p.Name}
	if p.Region != "" && p.Region != p.Name {
		parts = append(parts, p.Region)
	}
	if p.Country != p.Name {
		parts = append(parts, p.Country)
	}
	return strings.Join(parts, ", ")
}

// Kind says how a query fits a name, the best first.
type Kind int

const (
	Exact     Kind = iota // the whole name, but for accents, capitals, hyphens, "St."
	Beginning             // the name goes on after it
	OneSlip               // one letter wrong, missing, too many, or two swapped
	TwoSlips              // two such
)

// Match is a place found by a query.
type Match struct {
	Place
	Kind Kind
	// Spelling is the other name that fits ("München"), or "" where Name does.
	Spelling string
}
