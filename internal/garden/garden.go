package garden

import (
	"math"

	"haulm/internal/calendar"
	"haulm/internal/weather"
)

// Garden is the document a person owns.
type Garden struct {
	Name       string
	Site       weather.Site
	WeatherRef string // "built-in:mild-maritime", or the name of the record kept with the garden
	Soil       string // texture of its ground, one of soil.TextureNames; "" = not said
	Household  Household
	Wants      []Want
	Places     []Place
	History    []Grown
	Standing   []Standing
	InStore    []InStore
	Locks      []Lock
	Keeps      []Keep
}

// Household is who eats and who works.
type Household struct {
	People         int
	PortionsPerDay float64 // vegetables from the garden that one person eats a day
	MinutesPerWeek float64
	IndoorTrays    float64 // 40-cell trays that fit on the sill or bench at once
	Experience     string  // new, some, long
	Imperial       bool    // show inches, pounds and °F
}

// Want is how the table likes one dish.
type Want struct {
	Dish            string  // crop.Crop.Dish
	PortionsPerWeek float64 // for the whole household, when it is in season
	Liking          float64 // 0 never, 1 usual, 2 favourite
}

// Place is one piece of ground, or a set of like pots.
type Place struct {
	Name     string
	Kind     string // bed, border, covered, pots
	LengthM  float64
	WidthM   float64
	SunHours float64 // direct sun on a clear day in the growing season
	Cover    string  // "", fleece, cloche, frame, tunnel, greenhouse
	Pots     int     // kind pots: how many
	Litres   float64 // kind pots: litres of each
	Soil     string  // texture, where it is not the garden's; "" = the garden's
	RainFed  bool    // nobody waters it: rain must do
	RunsTo   string  // compass point (N, NE, …) towards which it runs from its first end; "" = not said
}

// The kinds of place.
const (
	Bed     = "bed"     // open ground worked from both sides
	Border  = "border"  // a strip along a wall or fence, reached from one side
	Covered = "covered" // under a frame, tunnel or greenhouse the year round
	Pots    = "pots"    // a set of like pots
)

// PotPitchCM is the stretch that one pot counts for wherever a pot is spoken
// of by from_cm and to_cm: pots are numbered along a line, the first from 0
// to 50, the second from 50 to 100, whatever their size.
const PotPitchCM = 50

// LengthCM is the length along which crops are placed, in whole centimetres:
// a bed's own length, or PotPitchCM for each pot.
func (p Place) LengthCM() int {
	if p.Kind == Pots {
		return p.Pots * PotPitchCM
	}
	return int(math.Round(p.LengthM * 100))
}

// Place finds a place by its name.
func (g *Garden) Place(name string) (Place, bool) {
	for _, p := range g.Places {
		if p.Name == name {
			return p, true
		}
	}
	return Place{}, false
}

// SoilAt is the texture of a place's ground: its own, or the garden's; ""
// where nobody has said.
func (g *Garden) SoilAt(p Place) string {
	if p.Soil != "" {
		return p.Soil
	}
	return g.Soil
}

// Grown is a past crop on a stretch of a place: what rotation remembers.
type Grown struct {
	Place  string
	FromCM int
	ToCM   int
	Crop   string // crop.Crop.Key
	Year   int    // the season year in which it last stood there
}

// Standing is a planting already in the ground.
type Standing struct {
	Place   string
	FromCM  int
	ToCM    int
	Crop    string
	Route   string
	Class   string
	Started calendar.Date // sown, or planted where it was not sown by us
	SetOut  calendar.Date // None where it was sown in place
}

// InStore is what lies in store, of this household's or bought, on the day the
// plan begins.
type InStore struct {
	Dish string
	Kg   float64 // still good
}

// Lock bans a dish, or a dish from one place ("" = everywhere).
type Lock struct {
	Dish  string
	Place string
}

// Keep is a planting that every plan has: one of a day, or one of every year.
type Keep struct {
	Place  string
	FromCM int
	ToCM   int
	Crop   string        // crop.Crop.Key
	Route  string        // "" = the usual one
	Class  string        // "" = mid
	Start  calendar.Date // sown or planted then; None = every year, when it does best there
}

// Always says whether the planting is kept every year.
func (k Keep) Always() bool { return !k.Start.Known() }
