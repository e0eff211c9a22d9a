package trial

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
)

// line is one line of a table that was handed in, by the names of its columns.
type line struct {
	number int // in the file, from 1
	cells  []string
	at     map[string]int
}

func (l line) cell(name string) string { return l.cells[l.at[name]] }

// linesOf reads a CSV whose first line names its columns. Those wanted must be
// among them; others may stand beside them.
func linesOf(from io.Reader, wanted []string) ([]line, error) {
	table, err := csv.NewReader(from).ReadAll()
	if err != nil {
		return nil, err
	}
	if len(table) < 2 {
		return nil, errors.New("it has no rows")
	}
	at := map[string]int{}
	for i, name := range table[0] {
		at[name] = i
	}
	for _, name := range wanted {
		if _, ok := at[name]; !ok {
			return nil, fmt.Errorf("it has no column %s", name)
		}
	}
	lines := make([]line, len(table)-1)
	for i, cells := range table[1:] {
		lines[i] = line{i + 2, cells, at}
	}
	return lines, nil
}
