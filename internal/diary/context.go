package diary

import (
	"slices"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/garden"
)

// Context is what a line is read against.
type Context struct {
	Today     calendar.Date
	Places    []garden.Place
	Catalogue *crop.Catalogue
	Standing  []Standing
	Imperial  bool // bare numbers for rain and lows are inches and °F
}

// Standing is one planting, planned, growing or over, that an entry may speak
// of.
type Standing struct {
	Key     string // names the planting for good
	Crop    string // crop.Crop.Key
	Place   string
	FromCM  int
	ToCM    int
	Planned calendar.Date // day it was to be begun; None where nobody planned it
	Begun   calendar.Date // sown or planted; None while it is only planned
	Cleared calendar.Date // None while it stands
	LostAll bool
	Indoors bool // sown to be set out, and no line says that it was
}

// Kept says whether the diary has a word on the beginning of anything planned.
// Where it has, what it knows nothing of was not begun; where it has none, the
// plan is taken as carried out.
func Kept(known []Standing) bool {
	return slices.ContainsFunc(known, func(s Standing) bool { return s.Planned.Known() && s.Begun.Known() })
}

// area is the ground of a place in m2; a pot counts by its mouth, roughly.
func area(p garden.Place) float64 {
	if p.Kind == garden.Pots {
		const potMouthM2 = 0.12 // a 30 to 40 litre pot is 38 to 42 cm across
		return float64(p.Pots) * potMouthM2
	}
	return p.LengthM * p.WidthM
}

// place finds a place by its name.
func (c Context) place(name string) (garden.Place, bool) {
	for _, p := range c.Places {
		if p.Name == name {
			return p, true
		}
	}
	return garden.Place{}, false
}

// Planting is the planting of a key; false where it is none of the garden's now.
func (c Context) Planting(key string) (Standing, bool) {
	for _, s := range c.Standing {
		if s.Key == key {
			return s, true
		}
	}
	return Standing{}, false
}

// cropName is what a crop is called.
func (c Context) cropName(key string) string {
	if c.Catalogue == nil {
		return key
	}
	if cr := c.Catalogue.Crop(key); cr != nil {
		return cr.Name
	}
	return key
}
