package figure

import (
	_ "embed"
	"strconv"
	"strings"
	"unicode"
)

//go:embed data/widths.csv
var widthsCSV string

// advance is the width of a letter in thousandths of an em.
type advance struct{ regular, bold float64 }

// unknownLetter is for letters outside the table, wideLetter for ideographs.
var (
	unknownLetter = advance{900, 950}
	wideLetter    = advance{1050, 1100}
	advances      = readAdvances(widthsCSV)
)

func readAdvances(text string) map[rune]advance {
	table := make(map[rune]advance)
	for line := range strings.Lines(text) {
		cells := strings.Split(strings.TrimSpace(line), ",")
		if strings.HasPrefix(line, "#") || len(cells) != 3 {
			continue
		}
		code, err1 := strconv.ParseInt(strings.TrimPrefix(cells[0], "U+"), 16, 32)
		regular, err2 := strconv.ParseFloat(cells[1], 64)
		bold, err3 := strconv.ParseFloat(cells[2], 64)
		if err1 != nil || err2 != nil || err3 != nil {
			panic("figure: data/widths.csv: bad row " + line)
		}
		table[rune(code)] = advance{regular, bold}
	}
	return table
}

// textWidth is how wide s is at most, in pixels, set at size pixels in any
// face of the stack.
func textWidth(s string, size float64, bold bool) float64 {
	var sum float64
	for _, r := range s {
		a, ok := advances[r]
		switch {
		case ok:
		case unicode.In(r, unicode.Han, unicode.Hiragana, unicode.Katakana, unicode.Hangul), r >= 0x1F000:
			a = wideLetter
		case unicode.In(r, unicode.Mn):
			a = advance{}
		default:
			a = unknownLetter
		}
		if bold {
			sum += a.bold
		} else {
			sum += a.regular
		}
	}
	return sum * size / 1000
}

// shorten cuts s to fit width with an ellipsis; it is empty when not even
// least letters fit.
func shorten(s string, width, size float64, bold bool, least int) string {
	if textWidth(s, size, bold) <= width {
		return s
	}
	letters := []rune(s)
	for n := len(letters) - 1; n >= least; n-- {
		cut := strings.TrimRight(string(letters[:n]), " ,-–") + "…"
		if textWidth(cut, size, bold) <= width {
			return cut
		}
	}
	return ""
}

// wrap breaks s at spaces into lines of at most width; words wider than that
// stand alone and stick out (the caller measures).
func wrap(s string, width, size float64, bold bool) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		longer := strings.TrimSpace(line + " " + word)
		if line != "" && textWidth(longer, size, bold) > width {
			lines = append(lines, line)
			longer = word
		}
		line = longer
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// wrapWithin is wrap with every line cut to width, and at most most lines.
func wrapWithin(s string, width, size float64, bold bool, most int) []string {
	lines := wrap(s, width, size, bold)
	if len(lines) > most {
		lines = append(lines[:most-1:most-1], strings.Join(lines[most-1:], " "))
	}
	for i, line := range lines {
		lines[i] = shorten(line, width, size, bold, 1)
	}
	return lines
}

func widest(lines []string, size float64, bold bool) float64 {
	var w float64
	for _, line := range lines {
		w = max(w, textWidth(line, size, bold))
	}
	return w
}
