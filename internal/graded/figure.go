package graded

import (
	"fmt"
	"slices"
)

// Figure is one figure with its range, where it comes from and the grade of
// trust in it, as in docs/sources.md.
type Figure struct {
	Name             string
	Low, Value, High float64
	Source, Grade    string
	Note             string
}

// Basis is the source with its grade, in words.
func (f Figure) Basis() string { return f.Source + ", grade " + f.Grade }

// Figures are a table's figures by name.
type Figures map[string]Figure

// columns follow the name in every table of figures.
var columns = []string{"low", "value", "high", "source", "grade", "note"}

// MustRead is Read of an embedded table; it panics where that is unsound.
func MustRead(table, text string) Figures {
	out, err := Read(table, text)
	if err != nil {
		panic(err)
	}
	return out
}

// Read reads the text of a table of figures: every name once, every figure
// within its range. table names it in complaints.
func Read(table, text string) (Figures, error) {
	rows, err := readRows(table, text)
	if err != nil {
		return nil, err
	}
	if head := rows[0]; !slices.Equal(head.Cells[1:], columns) {
		return nil, head.fault("the heading is %v, should be a name and %v", head.Cells, columns)
	}
	out := Figures{}
	for _, row := range rows[1:] {
		f := Figure{Name: row.Cells[0], Source: row.Cells[4], Grade: row.Cells[5], Note: row.Cells[6]}
		if err := row.numbers(1, &f.Low, &f.Value, &f.High); err != nil {
			return nil, err
		}
		if !(f.Low <= f.Value && f.Value <= f.High) {
			return nil, row.fault("%s: %g is not between %g and %g", f.Name, f.Value, f.Low, f.High)
		}
		if _, twice := out[f.Name]; twice {
			return nil, row.fault("%s stands twice", f.Name)
		}
		out[f.Name] = f
	}
	return out, nil
}

// Value is a figure; it panics where the table has none of the name.
func (f Figures) Value(name string) float64 {
	figure, ok := f[name]
	if !ok {
		panic(fmt.Sprintf("graded: there is no figure %q", name))
	}
	return figure.Value
}
