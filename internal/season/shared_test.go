package season

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

// sharedFile reads a file of the folder that lies beside the repository,
// unpacked; the test is skipped where there is none.
func sharedFile(t *testing.T, path string) []byte {
	t.Helper()
	root := os.Getenv("HAULM_SHARED")
	if root == "" {
		root = filepath.Join("..", "..", "..", "shared")
	}
	raw, err := os.ReadFile(filepath.Join(root, path))
	if err != nil {
		t.Skipf("needs the shared reference folder: %v", err)
	}
	if !strings.HasSuffix(path, ".gz") {
		return raw
	}
	zip, err := gzip.NewReader(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	out, err := io.ReadAll(zip)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// sharedTable reads a table as maps by column name.
func sharedTable(t *testing.T, path string) []map[string]string {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(sharedFile(t, path))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, row := range rows[1:] {
		m := map[string]string{}
		for i, name := range rows[0] {
			m[name] = row[i]
		}
		out = append(out, m)
	}
	return out
}
