package diary

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
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
			number, r.Day.String(), string(r.Kind), amount, string(r.Unit), r.Crop, name, r.Place, r.Planting, r.Cause, r.Text, r.PhotoFile,
		})
	}
	out.Flush()
	if err := out.Error(); err != nil {
		return fmt.Errorf("writing the diary: %w", err)
	}
	return nil
}
