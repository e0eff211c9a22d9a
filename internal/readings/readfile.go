package readings

import (
	"fmt"
	"os"
	"path/filepath"

	"haulm/internal/weather"
)

// ReadFile reads the record in the file at path.
func ReadFile(path string, options ...Options) (*weather.Record, *Report, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, nil, fmt.Errorf("weather record: %w", err)
	}
	defer f.Close()
	return Read(f, filepath.Base(path), options...)
}
