package app

import (
	"bytes"
	"flag"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"haulm/internal/sharedfolder"
)

var updateValidation = flag.Bool("update-validation", false, "write docs/validation.md anew")

// docs/validation.md is what the trials say of the model as it stands.
func TestValidationPageIsFresh(t *testing.T) {
	report, err := Validate(sharedfolder.Path(t), testCatalogue(t))
	if err != nil {
		t.Fatal(err)
	}
	var page bytes.Buffer
	if err := report.Write(&page); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join("..", "..", "docs", "validation.md")
	if *updateValidation {
		if err := os.WriteFile(path, page.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(page.Bytes(), want) {
		t.Error("docs/validation.md is not what the model does; read the difference and run: go test ./internal/app -run Validation -update-validation")
	}
}

// The catalogue holds what fitting to all trials gives: within a fiftieth, the
// rounding of the figures and of the search.
func TestCatalogueHoldsTheFit(t *testing.T) {
	report, err := Validate(sharedfolder.Path(t), testCatalogue(t))
	if err != nil {
		t.Fatal(err)
	}
	for i, g := range report.Groups {
		if got := report.Refitted[i]; math.Abs(got/g.Factor-1) > 0.02 {
			t.Errorf("%s: fitting gives a factor of %.3f, the catalogue holds %.3f", g.Name, got, g.Factor)
		}
	}
}

func TestValidateSaysWhatIsMissing(t *testing.T) {
	_, err := Validate(t.TempDir(), testCatalogue(t))
	if err == nil || !strings.Contains(err.Error(), "--shared") {
		t.Errorf("got %v", err)
	}
}
