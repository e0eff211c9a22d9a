package diary

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// Row is one line of a diary as a table. Its ID is the number that the line
// had in the diary that was written out, 0 where it had none.
type Row struct {
	Entry
	Line      int    // of the file
	Linked    bool   // the file has a column for plantings: an empty cell means none
	PhotoFile string // "" = none
}

// columns are those of the table, in order. crop_name is for the reader's eye:
// read in, it counts only where crop is empty.
var columns = []string{"line", "day", "what", "amount", "unit", "crop", "crop_name", "place", "planting", "cause", "words", "photo"}

// byteOrderMark lets spreadsheets know that the file is UTF-8.
const byteOrderMark = "\ufeff"

// WriteCSV writes rows as a table that ReadCSV reads, under a head that names
// its columns; cropName is the gardener's name of a crop's key.
func WriteCSV(w io.Writer, rows []Row, cropName func(key string) string) error {
	if _, err := io.WriteString(w, byteOrderMark); err != nil {
		return fmt.Errorf("writing the diary: %w", err)
	}
	out := csv.NewWriter(w)
	_ = out.Write(columns) // a writing error stays until Flush
	for _, r := range rows {
		name, amount, number := "", "", ""
		if r.Crop != "" {
			name = cropName(r.Crop)
		}
		if r.Given() {
			amount = strconv.FormatFloat(r.Amount, 'f', -1, 64)
		}
		if r.ID != 0 {
			number = strconv.FormatInt(r.ID, 10)
		}
		_ = out.Write([]string{
			number, r.Day.String(), string(r.Kind), amount, string(r.Unit), Cell(r.Crop), Cell(name), Cell(r.Place), Cell(r.Planting), Cell(r.Cause), Cell(r.Text), Cell(r.PhotoFile),
		})
	}
	out.Flush()
	if err := out.Error(); err != nil {
		return fmt.Errorf("writing the diary: %w", err)
	}
	return nil
}

// Cell is words as a table holds them: a spreadsheet takes a cell that begins
// with one of a few signs for a formula and works it out, unless an apostrophe
// stands before it. Words that have apostrophes before such a sign of their own
// are given one more, so that wordsOf finds all words as they were.
func Cell(words string) string {
	if beginsFormula(words) {
		return "'" + words
	}
	return words
}

// wordsOf is what a cell says: without the apostrophe of Cell.
func wordsOf(cell string) string {
	cell = AsRead(cell)
	if words, marked := strings.CutPrefix(cell, "'"); marked && beginsFormula(words) {
		return AsRead(words)
	}
	return cell
}

// AsRead is how words come back from a table: without blanks around them, and
// with every line ended alike.
func AsRead(words string) string {
	return strings.TrimSpace(lineEnds.Replace(words))
}

var lineEnds = strings.NewReplacer("\r\n", "\n", "\r", "\n")

func beginsFormula(words string) bool {
	sign := strings.TrimLeft(words, "'")
	return sign != "" && strings.IndexByte("=+-@\t\r", sign[0]) >= 0
}
