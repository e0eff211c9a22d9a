package sun

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
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

// inputs splits "lat=52;J=21" into its parts.
func inputs(t *testing.T, s string) func(string) string {
	t.Helper()
	parts := map[string]string{}
	for _, part := range strings.Split(s, ";") {
		if name, value, ok := strings.Cut(part, "="); ok {
			parts[name] = value
		}
	}
	return func(name string) string {
		t.Helper()
		value, ok := parts[name]
		if !ok {
			t.Fatalf("no %s in %q", name, s)
		}
		return value
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

func instant(t *testing.T, s string) time.Time {
	t.Helper()
	v, err := time.Parse("2006-01-02T15:04:05", s)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
