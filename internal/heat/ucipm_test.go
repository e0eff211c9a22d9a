package heat

import (
	"math"
	"testing"

	"haulm/internal/sharedfolder"
)

// Official results of the University of California IPM calculator for
// Esparto, 2020, thresholds 50 and 70 °F, as filed in the repository
// UCANR-IGIS/degree-day-challenge (MIT licence). The results are printed to
// two decimals, hence 0.005 °F-day; the fifth decimal is the calculator's own
// arithmetic (24 February, single sine: 8.71498 by the formula, 8.72 printed).
const printedToTwo = 0.005 + 5e-5

// A dozen of the days: cold, warm, across one and both thresholds, wholly above
// the upper, and the two on which the plain intermediate formula breaks down.
// In order: single sine horizontal, vertical, intermediate, double sine the same.
var ucipmDays = []struct {
	date              string
	low, high, nextLo float64
	want              [6]float64
}{
	{"1/2/2020", 36, 67, 33, [6]float64{5.71, 5.71, 5.71, 5.56, 5.56, 5.56}},
	{"1/8/2020", 41, 50, 37, [6]float64{0, 0, 0, 0, 0, 0}},
	{"2/10/2020", 52, 73, 44, [6]float64{12.01, 7.08, 11.52, 10.64, 6.09, 10.19}},
	{"3/15/2020", 44, 55, 39, [6]float64{1.51, 1.51, 1.51, 1.37, 1.37, 1.37}},
	{"4/15/2020", 43, 81, 49, [6]float64{10.71, 3.47, 8.12, 11.47, 3.86, 8.75}},
	{"5/27/2020", 66, 100, 58, [6]float64{19.41, 3.87, 5.82, 18.3, 4.12, 5.6}},
	{"6/10/2020", 63, 96, 59, [6]float64{18.6, 4.69, 7.7, 17.99, 4.7, 7.47}},
	{"7/12/2020", 59, 101, 61, [6]float64{17.54, 4.38, 5.08, 17.84, 4.41, 5.19}},
	{"8/15/2020", 68, 107, 60, [6]float64{19.81, 2.72, 2.72, 18.9, 3.41, 3.41}},
	{"8/19/2020", 71, 97, 62, [6]float64{20, 0, 6, 19.17, 2.34, 6.59}},
	{"9/6/2020", 67, 105, 58, [6]float64{19.64, 3.27, 3.28, 18.5, 3.68, 3.68}},
	{"10/1/2020", 62, 93, 57, [6]float64{18.23, 5.01, 8.95, 17.39, 4.88, 8.52}},
	{"11/20/2020", 36, 66, 42, [6]float64{5.29, 5.29, 5.29, 5.66, 5.66, 5.66}},
}

func band(c Cutoff) Band { return Band{Lower: 50, Upper: 70, Cutoff: c} }

var cutoffs = []Cutoff{Horizontal, Vertical, Intermediate}

func TestSine_UCIPM_Days(t *testing.T) {
	for _, day := range ucipmDays {
		for i, c := range cutoffs {
			single := SingleSine(day.low, day.high, band(c))
			double := DoubleSine(day.low, day.high, day.nextLo, band(c))
			if math.Abs(single-day.want[i]) > printedToTwo || math.Abs(double-day.want[i+3]) > printedToTwo {
				t.Errorf("%s, cut-off %d: got %.4f and %.4f, want %g and %g", day.date, c, single, double, day.want[i], day.want[i+3])
			}
		}
	}
}

// TestUCIPM_WholeYear runs all 366 days, four curves and three cut-offs, and
// the annual sums.
func TestUCIPM_WholeYear(t *testing.T) {
	rows := sharedfolder.Rows(t, "reference/models/degree_days_ucipm_366.csv")
	if len(rows) != 366 {
		t.Fatalf("%d days, want 366", len(rows))
	}
	worst := map[string]float64{}
	for i, row := range rows {
		low, high, next := number(t, row["tmin"]), number(t, row["tmax"]), number(t, row["tmin"])
		if i+1 < len(rows) { // on the last day UC IPM uses its own minimum again
			next = number(t, rows[i+1]["tmin"])
		}
		for column, got := range methods(low, high, next) {
			diff := math.Abs(got - number(t, row[column]))
			worst[column] = max(worst[column], diff)
			if diff > printedToTwo {
				t.Errorf("%s %s: got %.4f, want %s", row["date"], column, got, row[column])
			}
		}
	}
	t.Logf("worst differences, °F-day: %v", worst)
}

func methods(low, high, next float64) map[string]float64 {
	out := map[string]float64{}
	for i, suffix := range []string{"horiz", "vert", "intrmd"} {
		b := band(cutoffs[i])
		out["sngsine_"+suffix] = SingleSine(low, high, b)
		out["dblsine_"+suffix] = DoubleSine(low, high, next, b)
		out["sngtri_"+suffix] = SingleTriangle(low, high, b)
		out["dbltri_"+suffix] = DoubleTriangle(low, high, next, b)
	}
	return out
}
