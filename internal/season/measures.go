package season

import (
	"fmt"
	"math"
	"strings"

	"haulm/internal/diary"
	"haulm/internal/unit"
)

// measures puts quantities into words in the garden's own units.
type measures struct{ unit.System }

func (g *grower) say() measures {
	return measures{unit.SystemOf(g.in.Garden.Household.Imperial)}
}

// Weights below which no figure is honest: a scale in the kitchen shows them,
// a forecast does not.
const handfulKg, smallKg = 0.05, 0.1

// weight is a forecast weight, no finer than it can be known: "a handful",
// "under 100 g", "about 350 g", "about 1.4 kg".
func (m measures) weight(kg float64) string {
	switch {
	case kg < handfulKg:
		return "a handful"
	case m.System == unit.Imperial:
		return m.pounds(float64(unit.Kilogram(kg).Pounds()))
	case kg < smallKg:
		return "under 100 g"
	case kg < 0.975:
		return fmt.Sprintf("about %.0f g", 50*math.Round(kg*20))
	case kg < 9.95:
		return fmt.Sprintf("about %s kg", unit.Number(kg, 1))
	}
	return fmt.Sprintf("about %.0f kg", kg)
}

// weightSpan is a forecast weight with its doubt: "about 350–900 g", "about 400 g
// to 1.4 kg", "up to about 300 g" where it may be next to nothing. Ends that
// read alike are one figure.
func (m measures) weightSpan(lowKg, highKg float64) string {
	low, high := m.weight(lowKg), m.weight(highKg)
	from, exact := strings.CutPrefix(low, "about ")
	to, _ := strings.CutPrefix(high, "about ")
	number, in, _ := strings.Cut(from, " ")
	switch {
	case low == high:
		return low
	case to == high: // "a handful", "under 100 g"
		return high
	case !exact:
		return "up to " + high
	case strings.HasSuffix(to, " "+in):
		return "about " + number + "–" + to
	}
	return low + " to " + to
}

func (m measures) pounds(lb float64) string {
	const ounces = 16
	switch {
	case lb < 0.25:
		return "under 4 oz"
	case lb < 0.97:
		return fmt.Sprintf("about %.0f oz", 2*math.Round(lb*ounces/2))
	case lb < 9.95:
		return fmt.Sprintf("about %s lb", unit.Number(lb, 1))
	}
	return fmt.Sprintf("about %.0f lb", lb)
}

// weighed is a weight that was on the scale.
func (m measures) weighed(kg float64) string {
	switch {
	case m.System == unit.Imperial && kg < float64(unit.Pound(1).Kilograms()):
		return fmt.Sprintf("%.0f oz", 16*float64(unit.Kilogram(kg).Pounds()))
	case m.System == unit.Metric && kg < 1:
		return fmt.Sprintf("%.0f g", 1000*kg)
	}
	return m.Mass(unit.Kilogram(kg))
}

func (m measures) temp(c float64) string { return m.Temp(unit.Celsius(c)) }

// warmth is a difference of temperatures.
func (m measures) warmth(c float64) string {
	if m.System == unit.Imperial {
		return fmt.Sprintf("%.0f °F", c*9/5)
	}
	return fmt.Sprintf("%.0f °C", c)
}

func (m measures) spacing(cm float64) string {
	if m.System == unit.Metric {
		return unit.Number(cm, 1) + " cm"
	}
	return unit.Number(float64(unit.Centimetre(cm).Inches()), 1) + " in"
}

func (m measures) depth(mm float64) string {
	if m.System == unit.Imperial {
		return unit.Number(float64(unit.Millimetre(mm).Inches()), 1) + " in"
	}
	return fmt.Sprintf("%.0f mm", mm)
}

// water is an amount to pour; gallons are those of the diary.
func (m measures) water(litres float64) string {
	if m.System == unit.Imperial {
		return fmt.Sprintf("%s gallons", unit.Number(litres/diary.Measures().Value("gallon_l"), 1))
	}
	return fmt.Sprintf("%.0f litres", litres)
}

// stretch is from where to where along a place.
func (m measures) stretch(fromCM, toCM int) string {
	if m.System == unit.Imperial {
		feet := func(cm int) string { return unit.Number(float64(unit.Metre(float64(cm)/100).Feet()), 1) }
		return feet(fromCM) + "–" + feet(toCM) + " ft"
	}
	return fmt.Sprintf("%.1f–%.1f m", float64(fromCM)/100, float64(toCM)/100)
}
