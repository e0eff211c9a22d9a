package web

import (
	"math"
	"strconv"
	"strings"

	"haulm/internal/unit"
)

// measure is one sort of figure that the garden's form shows in the household's
// units. What is shown has so many decimals that whole centimetres come back as
// they were.
type measure struct {
	metric, imperial   string // signs
	toImperial, toMine func(float64) float64
	shown, kept        int // decimals
}

var (
	lengthMeasure = measure{"m", "ft",
		func(m float64) float64 { return float64(unit.Metre(m).Feet()) }, func(ft float64) float64 { return float64(unit.Foot(ft).Metres()) }, 2, 2}
	stretchMeasure = measure{"cm", "in",
		func(cm float64) float64 { return float64(unit.Centimetre(cm).Inches()) }, func(in float64) float64 { return float64(unit.Inch(in).Centimetres()) }, 1, 0}
)

// measured are the lists' fields that are measured, by list and name.
var measured = map[string]map[string]measure{
	"place":    {"length": lengthMeasure, "width": lengthMeasure},
	"grown":    {"from": stretchMeasure, "to": stretchMeasure},
	"standing": {"from": stretchMeasure, "to": stretchMeasure},
	"keep":     {"from": stretchMeasure, "to": stretchMeasure},
}

// showMeasures puts the form's figures, which are metric while it is read and
// built, into the units that it is set to, and says so with it.
func (f *gardenForm) showMeasures() {
	if f.Units.Value != "imperial" || f.Typed == "imperial" {
		return
	}
	f.Typed = "imperial"
	f.eachMeasure(func(fl *field, m measure) {
		fl.Unit = m.imperial
		fl.convert(m.toImperial, m.shown)
	})
}

// takeMeasures turns figures that were typed in feet and inches into metric
// ones.
func (f *gardenForm) takeMeasures() {
	if f.Typed != "imperial" {
		return
	}
	f.Typed = ""
	f.eachMeasure(func(fl *field, m measure) {
		fl.Unit = m.metric
		fl.convert(m.toMine, m.kept)
	})
}

func (f *gardenForm) eachMeasure(do func(*field, measure)) {
	do(&f.Elev, lengthMeasure)
	for _, l := range f.all() {
		by := measured[l.Key]
		for i := range l.Proto {
			if m, ok := by[l.Proto[i].Name]; ok {
				do(&l.Proto[i], m)
			}
		}
		for n := range l.Lines {
			for i := range l.Lines[n].Fields {
				fl := &l.Lines[n].Fields[i]
				if m, ok := by[strings.TrimPrefix(fl.Name, l.Key+".")]; ok {
					do(fl, m)
				}
			}
		}
	}
}

// convert changes the figure typed; what is no figure is left for its fault.
func (f *field) convert(by func(float64) float64, decimals int) {
	typed := field{Value: f.Value}
	v, ok := typed.number()
	if !ok {
		return
	}
	scale := math.Pow10(decimals)
	f.Value = strconv.FormatFloat(math.Round(by(v)*scale)/scale, 'f', -1, 64)
}
