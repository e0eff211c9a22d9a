package grow

import "haulm/internal/calendar"

// Course is what came of one planting in one year's weather. Stages that were
// not reached are calendar.None.
type Course struct {
	Start     calendar.Date // sowing; planting for sets, tubers and cloves
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

// Begun is a course on its first day: nothing has come of it yet.
func Begun(start calendar.Date) Course {
	return Course{
		Start: start, Emergence: calendar.None, SetOut: calendar.None, FirstPick: calendar.None,
		LastPick: calendar.None, Clear: calendar.None, Mishap: Mishap{Day: calendar.None},
	}
}

// reset begins a course anew, in the room of its pickings.
func (c *Course) reset(start calendar.Date) {
	room := c.Pickings[:0]
	*c = Begun(start)
	c.Pickings = room
}

// Failed says whether the course gave nothing to eat.
func (c Course) Failed() bool { return !c.FirstPick.Known() || c.Mishap.Lost }
