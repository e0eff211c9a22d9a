package figure

import (
	_ "embed"
	"strconv"
	"strings"
)

//go:embed data/families.csv
var familiesCSV string

// family is a botanical family's hue, the same in every figure.
type family struct {
	name   string // botanical, e.g. Fabaceae
	common string
	hueDeg float64
	chroma float64
	lift   float64
}

// otherFamily is the last row of the table: the hue of any family not listed.
const otherFamily = "Other"

var families = readFamilies(familiesCSV)

func readFamilies(text string) []family {
	var list []family
	for line := range strings.Lines(text) {
		cells := strings.Split(strings.TrimSpace(line), ",")
		if strings.HasPrefix(line, "#") || len(cells) != 5 {
			continue
		}
		f := family{name: cells[0], common: cells[1]}
		for i, to := range []*float64{&f.hueDeg, &f.chroma, &f.lift} {
			v, err := strconv.ParseFloat(cells[2+i], 64)
			if err != nil {
				panic("figure: data/families.csv: bad row " + line)
			}
			*to = v
		}
		list = append(list, f)
	}
	return list
}

// familyOf finds a family by its botanical name; unknown ones are Other.
func familyOf(name string) family {
	for _, f := range families {
		if strings.EqualFold(f.name, strings.TrimSpace(name)) {
			return f
		}
	}
	return families[len(families)-1]
}

func (f family) class() string { return "fam-" + strings.ToLower(f.name) }

// tones are a family's colours in one theme: pale while growing, full while
// picking, line for edges, ticks and leads.
type tones struct{ pale, full, line string }

// paleTint is how much of the full tone the pale one carries, as a printer
// screens an ink on its paper.
const paleTint = 0.34

func (f family) light() tones {
	full, paper := oklch(0.74+f.lift, f.chroma, f.hueDeg), parseHex(tokenOf("paper").light)
	return tones{
		pale: full.over(paper, paleTint).hex(),
		full: full.hex(),
		line: oklch(0.46, f.chroma, f.hueDeg).hex(),
	}
}

func (f family) night() tones {
	full, paper := oklch(0.44+f.lift, f.chroma*0.85, f.hueDeg), parseHex(tokenOf("ground").night)
	return tones{
		pale: full.over(paper, 0.45).hex(),
		full: full.hex(),
		line: oklch(0.74, f.chroma*0.90, f.hueDeg).hex(),
	}
}

// print has no colour: white while growing, grey while picking, black edges.
func (f family) print() tones {
	return tones{
		pale: "#ffffff",
		full: oklch(0.84+f.lift*1.6, 0, 0).hex(),
		line: "#1a1a1a",
	}
}
