package sharedfolder

import (
	"bytes"
	"compress/gzip"
	"encoding/csv"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Path is where a file or folder of the shared folder lies; the test is
// skipped where there is none. HAULM_SHARED names another folder than the one
// beside the repository.
func Path(t testing.TB, path ...string) string {
	t.Helper()
	root := os.Getenv("HAULM_SHARED")
	if root == "" {
		root = beside(t)
	}
	full := filepath.Join(root, filepath.FromSlash(filepath.Join(path...)))
	if _, err := os.Stat(full); err != nil {
		t.Skipf("needs the shared reference folder: %v", err)
	}
	return full
}

// beside is the folder next to the one that holds go.mod: a test runs in its
// package's folder, somewhere below.
func beside(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return filepath.Join(filepath.Dir(dir), "shared")
		}
		above := filepath.Dir(dir)
		if above == dir {
			t.Fatal("no go.mod above the test")
		}
		dir = above
	}
}

// Bytes is a file's content, unpacked where its name ends in .gz.
func Bytes(t testing.TB, path ...string) []byte {
	t.Helper()
	full := Path(t, path...)
	content, err := os.ReadFile(full)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasSuffix(full, ".gz") {
		return content
	}
	packed, err := gzip.NewReader(bytes.NewReader(content))
	if err != nil {
		t.Fatalf("%s: %v", full, err)
	}
	unpacked, err := io.ReadAll(packed)
	if err != nil {
		t.Fatalf("%s: %v", full, err)
	}
	return unpacked
}

// Rows is a CSV table's rows, each by column name.
func Rows(t testing.TB, path ...string) []map[string]string {
	t.Helper()
	table, err := csv.NewReader(bytes.NewReader(Bytes(t, path...))).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", filepath.Join(path...), err)
	}
	var rows []map[string]string
	for _, line := range table[1:] {
		row := map[string]string{}
		for i, name := range table[0] {
			row[name] = line[i]
		}
		rows = append(rows, row)
	}
	return rows
}
