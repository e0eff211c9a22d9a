package garden

import "haulm/internal/soil"

// The bounds of a sound garden. They are limits of what the program is meant
// for, not agronomy: wide enough for any household's ground, tight enough to
// catch a slip of the decimal point or metres given as centimetres.
const (
	minLengthM, maxLengthM = 0.3, 100.0
	minWidthM, maxWidthM   = 0.2, 10.0
	maxPots                = 200
	minLitres, maxLitres   = 1.0, 90.0 // a larger tub is a bed; 90 litres is as wide as PotPitchCM
	maxSunHours            = 24.0
	maxPeople              = 30
	maxPortionsPerDay      = 20.0
	maxPortionsPerWeek     = 1000.0
	maxMinutesPerWeek      = 7 * 24 * 60.0
	maxTrays               = 200.0
	maxLiking              = 2.0
	minElevM, maxElevM     = -430.0, 6000.0 // lowest and highest ground that anyone gardens
	minYear, maxYear       = 1900, 2200
	maxPlaces              = 200
	maxEntries             = 5000 // wants, history, standing crops and locks, each
	maxNameRunes           = 80
)

var (
	kinds       = []string{Bed, Border, Covered, Pots}
	covers      = []string{"", "fleece", "double_fleece", "cloche", "frame", "tunnel", "greenhouse"}
	points      = []string{"", "N", "NE", "E", "SE", "S", "SW", "W", "NW"}
	experiences = []string{"new", "some", "long"}
)

// Points lists the compass points towards which a place may run; "" is not said.
func Points() []string { return append([]string(nil), points...) }

// soils are the textures of ground; "" is not said.
func soils() []string { return append([]string{""}, soil.TextureNames()...) }

// Experiences lists how long a household has gardened.
func Experiences() []string { return append([]string(nil), experiences...) }
