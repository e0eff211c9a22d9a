package unit

import (
	"math"
	"strconv"
	"strings"
)

// System is the set of units that a person reads.
type System int

// The systems.
const (
	Metric System = iota
	Imperial
)

// SystemOf is Imperial when imperial is true.
func SystemOf(imperial bool) System {
	if imperial {
		return Imperial
	}
	return Metric
}

// Temp shows a temperature, such as "−2.3 °C" or "28 °F".
func (s System) Temp(c Celsius) string {
	if s == Imperial {
		return Number(float64(c.Fahrenheit()), 0) + " °F"
	}
	return Number(float64(c), 1) + " °C"
}

// Rain shows a depth of water, such as "12 mm" or "0.47 in".
func (s System) Rain(mm Millimetre) string {
	if s == Imperial {
		return Number(float64(mm.Inches()), 2) + " in"
	}
	return Number(float64(mm), 0) + " mm"
}

// Spacing shows a short length, such as "45 cm" or "18 in".
func (s System) Spacing(cm Centimetre) string {
	if s == Imperial {
		return Number(float64(cm.Inches()), 0) + " in"
	}
	return Number(float64(cm), 0) + " cm"
}

// Length shows a length, such as "3.6 m" or "11.8 ft".
func (s System) Length(m Metre) string {
	if s == Imperial {
		return Number(float64(m.Feet()), 1) + " ft"
	}
	return Number(float64(m), 1) + " m"
}

// Mass shows a mass, such as "2.4 kg" or "5.3 lb".
func (s System) Mass(kg Kilogram) string {
	if s == Imperial {
		return Number(float64(kg.Pounds()), 1) + " lb"
	}
	return Number(float64(kg), 1) + " kg"
}

// Number shows x with at most the given decimals, a true minus sign, no minus
// zero and no needless ".0"; a missing value is an en dash.
func Number(x float64, decimals int) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "–"
	}
	text := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return strings.Replace(text, "-", "−", 1)
}

// Count shows a whole number with its thousands set apart: 2,310.
func Count(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "–"
	}
	digits := strconv.FormatFloat(math.Abs(math.Round(x)), 'f', 0, 64)
	for i := len(digits) - 3; i > 0; i -= 3 {
		digits = digits[:i] + "," + digits[i:]
	}
	if math.Round(x) < 0 {
		return "−" + digits
	}
	return digits
}

// Counted is a whole number with its noun: "1 week", "2 weeks".
func Counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// Listed joins words as in a sentence: "kale, leeks and chard".
func Listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}
