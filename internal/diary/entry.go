package diary

import (
	"fmt"
	"math"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/unit"
)

// Kind is what happened.
type Kind string

// The kinds of entry. Those from Thinned to PottedOn tick off
// jobs.
const (
	Sown        Kind = "sown"
	Up          Kind = "up"
	PrickedOut  Kind = "pricked out"
	HardenedOff Kind = "hardened off"
	Planted     Kind = "planted"
	Watered     Kind = "watered"
	Fed         Kind = "fed"
	Picked      Kind = "picked"
	Lost        Kind = "lost"
	Cleared     Kind = "cleared"
	Stored      Kind = "stored"
	Rain        Kind = "rain"
	Low         Kind = "low"
	Note        Kind = "note"
	Thinned     Kind = "thinned"
	EarthedUp   Kind = "earthed up"
	Supported   Kind = "supported"
	PinchedOut  Kind = "pinched out"
	Mulched     Kind = "mulched"
	Weeded      Kind = "weeded"
	Covered     Kind = "covered"
	Uncovered   Kind = "uncovered"
	PottedOn    Kind = "potted on"
	Flowering   Kind = "flowering" // the first flowers were seen
	Silenced    Kind = "silenced"  // an alarm is not to be told again; Text names it
	Skipped     Kind = "skipped"   // a job is not to be asked again; Text names it
)

// Kinds lists every kind, in the order of a season.
func Kinds() []Kind {
	return []Kind{
		Sown, Up, PrickedOut, PottedOn, HardenedOff, Planted, Thinned, EarthedUp, Supported, PinchedOut, Flowering, Mulched, Weeded,
		Watered, Fed, Covered, Uncovered, Picked, Lost, Cleared, Stored, Rain, Low, Note, Silenced, Skipped,
	}
}

// Unit is what an amount is counted in, as the gardener said it.
type Unit string

// The units.
const (
	NoUnit     Unit = ""
	Gram       Unit = "g"
	Kilogram   Unit = "kg"
	Ounce      Unit = "oz"
	Pound      Unit = "lb"
	Count      Unit = "count"
	Percent    Unit = "%" // of the plants that stood
	Basin      Unit = "basin"
	Litre      Unit = "l"
	Gallon     Unit = "gal" // British
	Can        Unit = "can"
	HoseMinute Unit = "min" // of a running hose
	Millimetre Unit = "mm"
	Inch       Unit = "in"
	Celsius    Unit = "°C"
	Fahrenheit Unit = "°F"
)

// Entry is one line of the diary. A zero Amount with NoUnit means that none
// was given.
type Entry struct {
	ID       int64         `json:"id"`
	Kind     Kind          `json:"kind"`
	Day      calendar.Date `json:"day"`
	Place    string        `json:"place,omitempty"`    // "" = the whole garden
	Crop     string        `json:"crop,omitempty"`     // crop.Crop.Key
	Planting string        `json:"planting,omitempty"` // Standing.Key that it speaks of
	Amount   float64       `json:"amount,omitempty"`
	Unit     Unit          `json:"unit,omitempty"`
	Cause    string        `json:"cause,omitempty"` // what a loss was to
	Text     string        `json:"text,omitempty"`  // free words
	Photo    bool          `json:"photo,omitempty"` // one is kept with it
}

// Given says whether an amount was given.
func (e Entry) Given() bool { return e.Unit != NoUnit }

// Kg is the weight of the amount; a basin counts as data/measures.csv says.
// NaN where the amount is no weight.
func (e Entry) Kg() float64 {
	switch e.Unit {
	case Gram:
		return e.Amount / 1000
	case Kilogram:
		return e.Amount
	case Pound:
		return float64(unit.Pound(e.Amount).Kilograms())
	case Ounce:
		return float64(unit.Pound(e.Amount / 16).Kilograms())
	case Basin:
		return e.Amount * measure("basin_kg")
	}
	return math.NaN()
}

// Litres is the water of the amount, by the can or the minute of hose of
// data/measures.csv; NaN where it is no water.
func (e Entry) Litres() float64 {
	switch e.Unit {
	case Litre:
		return e.Amount
	case Can:
		return e.Amount * measure("can_l")
	case HoseMinute:
		return e.Amount * measure("hose_l_min")
	case Gallon:
		return e.Amount * measure("gallon_l")
	}
	return math.NaN()
}

// RainMM is the amount as rain; NaN where it is no depth.
func (e Entry) RainMM() float64 {
	switch e.Unit {
	case Millimetre:
		return e.Amount
	case Inch:
		return float64(unit.Inch(e.Amount).Millimetres())
	}
	return math.NaN()
}

// TempC is the amount as a temperature; NaN where it is none.
func (e Entry) TempC() float64 {
	switch e.Unit {
	case Celsius:
		return e.Amount
	case Fahrenheit:
		return float64(unit.Fahrenheit(e.Amount).Celsius())
	}
	return math.NaN()
}

// Say puts the entry into words; cropName is the gardener's name of its crop.
func (e Entry) Say(cropName string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s", e.Day.Format("2 January 2006"), e.Kind)
	if e.Given() {
		fmt.Fprintf(&b, " %s", e.AmountWords())
	}
	if cropName != "" {
		fmt.Fprintf(&b, " %s", cropName)
	}
	if e.Place != "" {
		fmt.Fprintf(&b, ", %s", e.Place)
	}
	if e.Cause != "" {
		fmt.Fprintf(&b, ", to %s", e.Cause)
	}
	if e.Text != "" {
		fmt.Fprintf(&b, ": %s", e.Text)
	}
	return b.String()
}

// AmountWords is the amount as a person writes it, "" where none was given.
func (e Entry) AmountWords() string {
	if !e.Given() {
		return ""
	}
	number := unit.Number(e.Amount, 2)
	if e.Unit == Percent {
		return number + " % of"
	}
	many := map[Unit][2]string{Basin: {"basin", "basins"}, Can: {"can", "cans"}, HoseMinute: {"minute of hose", "minutes of hose"}, Gallon: {"gallon", "gallons"}}
	switch words, ok := many[e.Unit]; {
	case e.Unit == Count:
		return number
	case ok && e.Amount == 1:
		return number + " " + words[0]
	case ok:
		return number + " " + words[1]
	}
	return number + " " + string(e.Unit)
}
