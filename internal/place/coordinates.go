package place

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// ParseCoordinates reads a latitude and a longitude in degrees, north and east
// positive, as people copy them: "53.4 -6.3", "53.4N, 6.3W", "N 53.4 W 6.3",
// "53°24'N 6°18'W", `53°24'30" N, 6°18'0" W`, "53 24 N 6 18 W"; with compass
// letters also the longitude first. Without letters the latitude stands first.
// A decimal comma is taken where both figures have one ("53,4 -6,3"). ok is false
// for anything else, and for points off the globe.
func ParseCoordinates(text string) (latDeg, lonDeg float64, ok bool) {
	if len(text) > mostQuery || !utf8.ValidString(text) {
		return 0, 0, false
	}
	marks, ok := scanMarks(decimalCommas(text))
	if !ok {
		return 0, 0, false
	}
	first, second, ok := twoAngles(marks)
	if !ok {
		return 0, 0, false
	}
	if first.isLon() {
		first, second = second, first
	}
	if first.isLat() != second.isLon() || first.isLon() || second.isLat() { // two of a kind, or a letter on one only
		return 0, 0, false
	}
	lat, okLat := first.degrees(90)
	lon, okLon := second.degrees(180)
	if !okLat || !okLon {
		return 0, 0, false
	}
	return lat, lon, true
}

// decimalCommas turns "53,4 -6,3" and "53,4; -6,3" to points: both halves must
// have the form, since "53,4" alone is two whole numbers.
func decimalCommas(text string) string {
	halves := strings.FieldsFunc(text, func(letter rune) bool { return unicode.IsSpace(letter) || letter == ';' })
	if len(halves) != 2 {
		return text
	}
	for _, half := range halves {
		whole, decimals, comma := strings.Cut(strings.Trim(half, "+-−NSEWnsew°"), ",")
		if !comma || !digits(whole) || !digits(decimals) {
			return text
		}
	}
	return strings.ReplaceAll(text, ",", ".")
}

func digits(text string) bool {
	return text != "" && strings.Trim(text, "0123456789") == ""
}

// mark is a piece of a coordinate: a number with its sign, a sign of unit
// (° ' "), a compass letter, or a comma.
type mark struct {
	kind   byte // '0' a number; 'd', 'm', 's' the signs ° ' "; N, S, E, W; ','
	value  float64
	signed bool // a sign stood before it
	minus  bool
}

// scanMarks cuts text into marks.
func scanMarks(text string) (marks []mark, ok bool) {
	sign := byte(0)
	for text != "" {
		letter, size := utf8.DecodeRuneInString(text)
		rest := text[size:]
		switch {
		case unicode.IsSpace(letter):
			if sign != 0 {
				return nil, false // a sign belongs to its number
			}
		case '0' <= letter && letter <= '9' || letter == '.':
			end := strings.IndexFunc(text, func(l rune) bool { return (l < '0' || l > '9') && l != '.' })
			if end < 0 {
				end = len(text)
			}
			value, err := strconv.ParseFloat(text[:end], 64)
			if err != nil {
				return nil, false
			}
			marks = append(marks, mark{kind: '0', value: value, signed: sign != 0, minus: sign == '-'})
			sign, rest = 0, text[end:]
		case sign != 0:
			return nil, false
		case letter == '-' || letter == '−' || letter == '–':
			sign = '-'
		case letter == '+':
			sign = '+'
		default:
			kind := kindOf(letter)
			if kind == 0 {
				return nil, false
			}
			if kind == 'm' && strings.HasPrefix(rest, "'") { // two strokes for seconds
				kind, rest = 's', rest[1:]
			}
			marks = append(marks, mark{kind: kind})
		}
		text = rest
	}
	return marks, sign == 0
}

// kindOf is the kind of a mark that is not a number, or 0.
func kindOf(letter rune) byte {
	switch letter {
	case '°', 'º', '˚':
		return 'd'
	case '\'', '’', '′', '‘':
		return 'm'
	case '"', '”', '″', '“':
		return 's'
	case ',', ';', '/':
		return ','
	}
	switch upper := unicode.ToUpper(letter); upper {
	case 'N', 'S', 'E', 'W':
		return byte(upper)
	}
	return 0
}

// angle is degrees, minutes and seconds as written.
type angle struct {
	parts   []float64
	signed  bool
	minus   bool
	compass byte
}

func (a angle) isLat() bool { return a.compass == 'N' || a.compass == 'S' }
func (a angle) isLon() bool { return a.compass == 'E' || a.compass == 'W' }

// degrees is the angle's value, if it is well formed and at most most.
func (a angle) degrees(most float64) (float64, bool) {
	if len(a.parts) == 0 || len(a.parts) > 3 || a.signed && a.compass != 0 {
		return 0, false
	}
	value, unit := 0.0, 1.0
	for i, part := range a.parts {
		if i > 0 && part >= 60 || i < len(a.parts)-1 && part != float64(int(part)) {
			return 0, false // minutes past the hour, or a fraction before them
		}
		value += part / unit
		unit *= 60
	}
	if a.minus || a.compass == 'S' || a.compass == 'W' {
		value = -value
	}
	return value, -most <= value && value <= most
}

// twoAngles parts the marks into two angles: at the comma, or behind the first
// compass letter that follows a number, or before one where letters lead, or
// with neither in the middle of the numbers.
func twoAngles(marks []mark) (first, second angle, ok bool) {
	cut := cutAt(marks)
	if cut <= 0 || cut >= len(marks) {
		return first, second, false
	}
	left, right := marks[:cut], marks[cut:]
	if right[0].kind == ',' {
		right = right[1:]
	}
	first, okFirst := readAngle(left)
	second, okSecond := readAngle(right)
	return first, second, okFirst && okSecond
}

func cutAt(marks []mark) int {
	numbers := 0
	for i, m := range marks {
		switch {
		case m.kind == ',':
			return i
		case m.kind == '0':
			numbers++
			if numbers > 1 && m.signed {
				return i
			}
		case isCompass(m.kind):
			if numbers > 0 && i+1 < len(marks) {
				if isCompass(marks[0].kind) { // "N 53.4 W 6.3": this letter leads the second
					return i
				}
				if marks[i+1].kind == ',' {
					continue
				}
				return i + 1
			}
		}
	}
	return middle(marks, numbers)
}

func isCompass(kind byte) bool { return kind == 'N' || kind == 'S' || kind == 'E' || kind == 'W' }

// middle is where the second half of the numbers begins, or at the second sign
// of degrees; 0 if their number is odd.
func middle(marks []mark, numbers int) int {
	if numbers%2 != 0 {
		return 0
	}
	seen := 0
	for i, m := range marks {
		if m.kind == '0' {
			if seen == numbers/2 {
				return i
			}
			seen++
		}
	}
	return 0
}

// readAngle reads the marks of one angle: numbers each with at most its own
// sign of unit in the right order, and a compass letter at either end.
func readAngle(marks []mark) (a angle, ok bool) {
	for i, m := range marks {
		switch m.kind {
		case '0':
			if m.signed && len(a.parts) > 0 {
				return a, false
			}
			if m.signed {
				a.signed, a.minus = true, m.minus
			}
			a.parts = append(a.parts, m.value)
		case 'd', 'm', 's':
			unit := map[byte]int{'d': 1, 'm': 2, 's': 3}[m.kind]
			if len(a.parts) != unit || i == 0 || marks[i-1].kind != '0' {
				return a, false
			}
		case ',':
			return a, false
		default:
			if a.compass != 0 || i > 0 && i < len(marks)-1 {
				return a, false
			}
			a.compass = m.kind
		}
	}
	return a, len(a.parts) > 0
}
