package crop

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
)

// A table is CSV with a fixed heading. Every complaint names file and line,
// so that whoever edits a table can go straight there.

// row is one line of a table.
type row struct {
	file  string
	line  int
	cells []string
}

func (r row) fault(format string, args ...any) error {
	return fmt.Errorf("%s line %d: %w", r.file, r.line, fmt.Errorf(format, args...))
}

// readTable hands each row under the heading to each.
func readTable(file string, from io.Reader, heading []string, each func(row) error) error {
	reader := csv.NewReader(from)
	reader.FieldsPerRecord = -1
	reader.ReuseRecord = true
	for first := true; ; first = false {
		cells, err := reader.Read()
		if errors.Is(err, io.EOF) {
			if first {
				return fmt.Errorf("%s: is empty; it needs the heading %v", file, heading)
			}
			return nil
		}
		if err != nil {
			return fmt.Errorf("%s: %w", file, err)
		}
		line, _ := reader.FieldPos(0)
		r := row{file, line, cells}
		switch {
		case first && !slices.Equal(cells, heading):
			return r.fault("heading is %v, should be %v", cells, heading)
		case first:
		case len(cells) != len(heading):
			return r.fault("has %d cells, should have %d", len(cells), len(heading))
		default:
			if err := each(r); err != nil {
				return err
			}
		}
	}
}

// fact reads name, low, value, high, text, source, grade, note.
func (r row) fact(cells []string, sources map[string]bool) (Fact, error) {
	f := Fact{Name: cells[0], Unit: unitOf(cells[0]), Text: cells[4], Source: cells[5], Grade: Grade(cells[6]), Note: cells[7]}
	for i, into := range []*float64{&f.Low, &f.Value, &f.High} {
		x, err := number(cells[1+i])
		if err != nil {
			return f, r.fault("%s: %w", f.Name, err)
		}
		*into = x
	}
	return f, r.checkFact(f, sources)
}

func (r row) checkFact(f Fact, sources map[string]bool) error {
	if !sources[f.Source] {
		return r.fault("%s: source %q is not in sources.csv", f.Name, f.Source)
	}
	if !slices.Contains(grades, f.Grade) {
		return r.fault("%s: grade %q is none of %v", f.Name, f.Grade, grades)
	}
	if math.IsNaN(f.Low) != math.IsNaN(f.High) {
		return r.fault("%s: low and high go together", f.Name)
	}
	if f.Low > f.Value || f.Value > f.High {
		return r.fault("%s: %g is not between %g and %g", f.Name, f.Value, f.Low, f.High)
	}
	return nil
}

// number reads a figure; empty is NaN, "no figure".
func number(cell string) (float64, error) {
	if cell == "" {
		return math.NaN(), nil
	}
	x, err := strconv.ParseFloat(cell, 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		return 0, fmt.Errorf("%q is not a number", cell)
	}
	return x, nil
}

var grades = []Grade{Seen, SeenPart, Derived, FromMemory, Practice, Estimate}
