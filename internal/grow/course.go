package grow

import (
	"haulm/internal/calendar"
	"haulm/internal/crop"
)

// Sowing is one planting to be grown through one year's weather.
type Sowing struct {
	Crop   *crop.Crop
	Class  string // early, mid, late; "" = mid
	Route  *crop.Route
	Start  calendar.Date // sowing; planting for sets, tubers and cloves
	SetOut calendar.Date // day raised plants went out; None = when they are fit and the ground is
	Cover  string        // cover over it in the ground, "" = open
}

// Course is what came of a Sowing in one year. Stages that were not reached
// are calendar.None.
type Course struct {
	Start     calendar.Date
	Emergence calendar.Date
	SetOut    calendar.Date // None for crops sown in place
	FirstPick calendar.Date
	LastPick  calendar.Date
	Clear     calendar.Date // day the ground is free again
	Mishap    Mishap
	KgPerM2   float64   // at the route's own spacing
	Pickings  []Picking // by week, in order
	RanOut    bool      // the record ended first
	Gap       bool      // days in its way have no usable weather: nothing is known
}

// Picking is one week's crop.
type Picking struct {
	Monday  calendar.Date
	KgPerM2 float64
}

// Mishap is what went wrong, with its day; Kind is NoMishap when nothing did.
type Mishap struct {
	Kind MishapKind
	Day  calendar.Date
	Lost bool // the planting gave nothing
}

// MishapKind names a mishap.
type MishapKind string

// The mishaps.
const (
	NoMishap       MishapKind = ""
	SeedRotted     MishapKind = "seed rotted in cold soil"
	TooHotToSprout MishapKind = "soil too hot to germinate"
	FrostKilled    MishapKind = "killed by frost"
	FrostChecked   MishapKind = "cut back by frost"
	Bolted         MishapKind = "ran to seed"
	HeatStopped    MishapKind = "no fruit set in the heat"
	ColdStopped    MishapKind = "nights too cold to set fruit"
	TooDark        MishapKind = "too little light to set fruit"
	NotReady       MishapKind = "not ready before the season ended"
	NoBulb         MishapKind = "days never long enough to bulb"
	NoTuber        MishapKind = "days never short enough for tubers"
	FlowersDropped MishapKind = "flowers and pods dropped in drought"
	DroughtChecked MishapKind = "held back by drought"
	DriedUp        MishapKind = "dried up"
	TooYoung       MishapKind = "too young to be picked"
	NoRest         MishapKind = "no winter cold to rest in"
)

// Failed says whether the course gave nothing to eat.
func (c Course) Failed() bool { return !c.FirstPick.Known() || c.Mishap.Lost }
