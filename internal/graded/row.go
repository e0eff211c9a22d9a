package graded

import (
	"encoding/csv"
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// Row is one line of a table.
type Row struct {
	Cells []string
	where string
}

// MustRows are the rows of a table's text under its heading; it panics where
// they are not rows of as many cells.
func MustRows(table, text string) []Row {
	rows, err := readRows(table, text)
	if err != nil {
		panic(err)
	}
	return rows[1:]
}

// readRows gives the heading as row 0. Lines that begin with # are remarks.
func readRows(table, text string) ([]Row, error) {
	in := csv.NewReader(strings.NewReader(text))
	in.Comment = '#'
	lines, err := in.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", table, err)
	}
	if len(lines) == 0 {
		return nil, errors.New(table + ": is empty")
	}
	rows := make([]Row, len(lines))
	for i, cells := range lines {
		rows[i] = Row{cells, fmt.Sprintf("%s row %d", table, i)}
	}
	return rows, nil
}

// Numbers reads the cells from column at on, counted from 0; it panics where
// one is no number.
func (r Row) Numbers(at int, into ...*float64) {
	if err := r.numbers(at, into...); err != nil {
		panic(err)
	}
}

func (r Row) numbers(at int, into ...*float64) error {
	for i, to := range into {
		value, err := strconv.ParseFloat(r.Cells[at+i], 64)
		if err != nil {
			return r.fault("%w", err)
		}
		*to = value
	}
	return nil
}

func (r Row) fault(format string, args ...any) error {
	return fmt.Errorf("%s: %w", r.where, fmt.Errorf(format, args...))
}
