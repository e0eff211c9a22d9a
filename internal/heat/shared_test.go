package heat

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// sharedRows reads a table of the reference folder that lies beside the
// repository, as maps by column name.
func sharedRows(t *testing.T, path string) []map[string]string {
	t.Helper()
	root := os.Getenv("HAULM_SHARED")
	if root == "" {
		root = "../../../shared"
	}
	f, err := os.Open(filepath.Join(root, path))
	if err != nil {
		t.Skipf("needs the shared reference folder: %v", err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, record := range records[1:] {
		row := map[string]string{}
		for i, name := range records[0] {
			row[name] = record[i]
		}
		rows = append(rows, row)
	}
	return rows
}

// inputs splits "F: Tmin=36;Tmax=67;upper=None" into its numbers; None is NaN.
func inputs(t *testing.T, s string) func(string) float64 {
	t.Helper()
	parts := map[string]string{}
	for _, part := range strings.Split(strings.TrimPrefix(s, "F: "), ";") {
		if name, value, ok := strings.Cut(part, "="); ok {
			parts[name] = strings.TrimSuffix(value, "F")
		}
	}
	return func(name string) float64 {
		t.Helper()
		value, ok := parts[name]
		if !ok {
			t.Fatalf("no %s in %q", name, s)
		}
		if value == "None" {
			value = "NaN"
		}
		return number(t, value)
	}
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
