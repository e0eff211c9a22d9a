package app

import (
	"bytes"
	"flag"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"haulm/internal/sharedfolder"
	"haulm/internal/trial"
)

var updateValidation = flag.Bool("update-validation", false, "write docs/validation.md anew")

// lastReport is kept between the tests that read it, since it takes seconds.
var lastReport *trial.Report

func validated(t *testing.T) *trial.Report {
	t.Helper()
	shared := sharedfolder.Path(t)
	if lastReport == nil {
		report, err := Validate(shared, testCatalogue(t))
		if err != nil {
			t.Fatal(err)
		}
		lastReport = report
	}
	return lastReport
}

// docs/validation.md is what the trials say of the model as it stands.
func TestValidationPageIsFresh(t *testing.T) {
	report := validated(t)
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
// rounding of the figures and of the search; within half of the prior where no
// trial of the group has weather of its own, since the climatology behind it
// moves the fit as well.
func TestCatalogueHoldsTheFit(t *testing.T) {
	report := validated(t)
	for i, g := range report.Groups {
		allowed := 0.02
		if !slices.ContainsFunc(report.Outcomes, func(o trial.Outcome) bool {
			return slices.Contains(g.Crops, o.Subject.Crop.Key) && o.Weather.Kind != trial.Estimated
		}) {
			allowed = g.PriorLogSD / 2
		}
		if got := report.Refitted[i]; math.Abs(got/g.Factor-1) > allowed {
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

// The goals that were set before the trials were looked at, but for the bounds,
// of which docs/validation.md names the few that are not kept and why.
func TestTrialGoals(t *testing.T) {
	report := validated(t)
	all, byCrop := trial.Scored(report.Outcomes)
	if got := all.Emergence.MedianAbs; got > 3 {
		t.Errorf("emergence: median absolute error %.1f d, goal 3", got)
	}
	if got := all.Harvest.MedianAbs; got > 7 {
		t.Errorf("first harvest: median absolute error %.1f d, goal 7", got)
	}
	if got := all.All.InsideShare(); got < 0.75 || got > 0.85 {
		t.Errorf("%.0f %% of dates inside the 80 %% interval, goal 75 to 85", 100*got)
	}
	for _, s := range byCrop {
		if bias := s.Harvest.Bias; s.Harvest.N > 0 && math.Abs(bias) > 10 {
			t.Errorf("%s: first harvest biased by %+.0f d, goal 10", s.Crop, bias)
		}
		if bias := s.Emergence.Bias; s.Emergence.N > 0 && math.Abs(bias) > 10 {
			t.Errorf("%s: emergence biased by %+.0f d, goal 10", s.Crop, bias)
		}
	}
}
